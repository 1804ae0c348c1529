import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type RunningPage, startPage } from '../../src/review/start-page.js';
import { describeIf } from '../helpers/needs.js';
import { allDrawn, PHONE, sharedBrowser, type TestBrowser } from './browser.js';
import { createDemoFarm, type DemoFarm } from './demo-farm.js';
import { manyTrays } from './many-trays.js';

const TRAYS = 120;

describeIf('chromium', 'a farm of many trays', () => {
  let browser: TestBrowser;
  let page: RunningPage;
  let farm: DemoFarm;
  let tab: Page;

  beforeAll(async () => {
    farm = await createDemoFarm();
    const live = manyTrays(farm.feed, TRAYS);
    page = await startPage({
      config: farm.config,
      queries: farm.store,
      live,
      listenHost: '127.0.0.1',
      listenPort: 0,
    });
    browser = await sharedBrowser();
    tab = await browser.newPage(PHONE);
  });
  afterAll(async () => {
    await browser.close();
    await page.close();
  });

  it('the first tray can be pressed before those that nobody sees are drawn, and then all are', async () => {
    await tab.addInitScript(() => {
      // told of right after the page was first drawn, before anything else runs
      new MutationObserver((_, observer) => {
        if (document.querySelector('.press-water') === null) return;
        observer.disconnect();
        Object.assign(window, { toComeAtFirst: document.querySelectorAll('.is-to-come').length });
      }).observe(document, { childList: true, subtree: true });
    });
    await tab.goto(page.address);
    await tab.locator('.press-water').first().waitFor();
    const toComeAtFirst = await tab.evaluate(() => (window as { toComeAtFirst?: number }).toComeAtFirst);
    expect(toComeAtFirst).toBeGreaterThan(TRAYS);
    await allDrawn(tab);
    expect(await tab.locator('.now-list .press-water, .waits button').count()).toBe(TRAYS);
  });

  it('a tray far down the list that nobody looks at tells its news all the same', async () => {
    await allDrawn(tab);
    const last = tab.locator('.now-list li').last();
    expect(await last.locator('.left').textContent()).toMatch(/\d/);
    // three hours without a forecast, and the hours that were told are over
    farm.setClock(farm.feed.present().nowMs + 4 * 3_600_000);
    await farm.happen({ kind: 'note', at: new Date(farm.feed.present().nowMs).toISOString(), text: 'x' });
    await tab.waitForFunction(
      () =>
        !/\d ?(h|min|d)\b/.test(
          [...document.querySelectorAll('.now-list li .left')].at(-1)?.textContent ?? '',
        ),
    );
    expect(await last.evaluate((line) => line.getBoundingClientRect().top)).toBeGreaterThan(
      2 * PHONE.viewport.height,
    );
  });
});
