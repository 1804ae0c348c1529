import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { FarmPainter } from '../../src/review/server/live/farm-picture.js';
import { type RunningPage, startPage } from '../../src/review/start-page.js';
import { StoreFeed } from '../../src/review/store-feed/store-feed.js';
import { describeIf } from '../helpers/needs.js';
import { PHONE, sharedBrowser, type TestBrowser } from './browser.js';
import { createDemoFarm, type DemoFarm } from './demo-farm.js';
import { HOUR_MS, SEASON_END_MS } from './demo-season.js';

const FROM_MS = Date.parse('2026-05-11T00:00:00Z');
const LOOK_EVERY_MS = 10 * HOUR_MS;

async function feedAt(farm: DemoFarm, nowMs: number): Promise<StoreFeed> {
  return StoreFeed.open({
    config: farm.config,
    queries: farm.store,
    nowMs: () => nowMs,
    lookEveryMs: LOOK_EVERY_MS,
    complain: (cause) => {
      throw cause;
    },
  });
}

describe('a store in which nobody has written for long', () => {
  it('stands at its last word: nothing of it is now, and each probe is as it was then', async () => {
    const farm = await createDemoFarm(FROM_MS);
    const feed = await feedAt(farm, SEASON_END_MS + 200 * 24 * HOUR_MS);
    const { isPast, nowMs, clockSpeed } = feed.present();
    // Each sign of life tells the page this speed again.
    expect({ isPast, clockSpeed }).toEqual({ isPast: true, clockSpeed: 0 });
    expect(Math.abs(nowMs - SEASON_END_MS)).toBeLessThan(HOUR_MS);
    const painter = new FarmPainter(farm.config, feed);
    await painter.lookBack(farm.store);
    const picture = painter.paint();
    expect(picture).toMatchObject({ clockSpeed: 0, canTell: false });
    expect(picture.probes.find(({ id }) => id === 'moist-t1')?.reading).toBeDefined();
    feed.close();
  });

  it('is not yet the past an hour after its last reading', async () => {
    const farm = await createDemoFarm(FROM_MS);
    const feed = await feedAt(farm, SEASON_END_MS + HOUR_MS);
    expect(feed.present()).toMatchObject({ isPast: false, nowMs: SEASON_END_MS + HOUR_MS });
    feed.close();
  });
});

describe('a tray whose forecast is old', () => {
  it('has none for now, and says since when', async () => {
    const farm = await createDemoFarm(FROM_MS);
    const painter = new FarmPainter(farm.config, farm.feed);
    await painter.lookBack(farm.store);
    const before = painter.paint().trays.find(({ id }) => id === 't4');
    expect(before?.forecast).toBeDefined();
    farm.setClock(SEASON_END_MS + 5 * HOUR_MS);
    const after = painter.paint().trays.find(({ id }) => id === 't4');
    expect(after?.forecast).toBeUndefined();
    expect(after?.moistureIndex).toBeUndefined();
    expect(after?.forecastEndedAt).toBe(before?.forecast?.at);
  });
});

describeIf('chromium', 'the page of an old store', () => {
  let browser: TestBrowser;
  let page: RunningPage;
  let feed: StoreFeed;
  let tab: Page;

  beforeAll(async () => {
    const farm = await createDemoFarm(FROM_MS);
    feed = await feedAt(farm, SEASON_END_MS + 200 * 24 * HOUR_MS);
    page = await startPage({
      config: farm.config,
      queries: farm.store,
      live: feed,
      listenHost: '127.0.0.1',
      listenPort: 0,
    });
    browser = await sharedBrowser();
    tab = await browser.newPage(PHONE);
    await tab.goto(page.address);
  });
  afterAll(async () => {
    await browser.close();
    await page.close();
    feed.close();
  });

  it('says first that this is the past, of when, and calls no round', async () => {
    await tab.getByText(/^The past: the last that is known is of 15 May 2026/).waitFor();
    expect(await tab.getByRole('heading', { level: 1 }).textContent()).toMatch(/^The farm on 15 May 2026/);
    expect(await tab.locator('.headline-round').count()).toBe(0);
    expect(await tab.locator('.farm-time').textContent()).toContain('15 May');
  });

  it('its journal and probes end where the store ends', async () => {
    await tab.goto(`${page.address}#journal`);
    await tab.locator('.line').first().waitFor();
    await tab.goto(`${page.address}#probes`);
    await tab.locator('.probe-course').first().waitFor();
  });
});
