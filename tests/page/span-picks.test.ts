import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cyclesAnswerSchema } from '../../shared/page/page-season.js';
import { weeksBefore } from '../../src/review/page/texts/weeks.js';
import { cyclesAnswer } from '../../src/review/server/views/cycles-answer.js';
import { farmCalendar } from '../../src/review/server/views/farm-calendar.js';
import type { RunningPage } from '../../src/review/start-page.js';
import { createMemoryStore } from '../helpers/memory-store.js';
import { describeIf } from '../helpers/needs.js';
import { PHONE, sharedBrowser, type TestBrowser } from './browser.js';
import { createDemoFarm } from './demo-farm.js';
import { SEASON_END_MS } from './demo-season.js';
import { pageOf } from './page-of.js';
import { violations } from './violations.js';

const calendar = farmCalendar('Europe/Berlin');

describe('weeksBefore()', () => {
  it('numbers weeks by ISO 8601: Monday to Sunday, of the year of their Thursday', () => {
    // 2027-01-03 is a Sunday of week 53 of 2026, 2024-12-30 the Monday of week 1 of 2025 (ISO 8601-1:2019, 3.1.1.23).
    expect(weeksBefore('2027-01-03', 2)).toEqual([
      { number: 53, fromDay: '2026-12-28', toDay: '2027-01-03' },
      { number: 52, fromDay: '2026-12-21', toDay: '2026-12-27' },
    ]);
    expect(weeksBefore('2024-12-30', 1)).toEqual([{ number: 1, fromDay: '2024-12-30', toDay: '2025-01-05' }]);
  });
});

describe('crop cycles', () => {
  const nowMs = Date.parse('2026-05-15T12:00:00Z');
  const trayOf = (tray: string, at: string, more: object = {}) => ({
    kind: 'tray-event' as const,
    event: { at, tray, event: 'new' as const, bench: 'south', blockSideMm: 19, blockCount: 280, ...more },
  });

  it('are the trays of one crop and one sowing day, from the sowing until the last of them left', async () => {
    const store = createMemoryStore();
    const ended = (tray: string, at: string) => ({
      kind: 'tray-event' as const,
      event: { at, tray, event: 'ended' as const },
    });
    await store.keep([
      trayOf('a', '2026-03-01T09:00:00Z', { crop: 'leek', sownAt: '2026-02-27T09:00:00Z' }),
      trayOf('b', '2026-03-01T10:00:00Z', { crop: 'leek', sownAt: '2026-02-27T15:00:00Z' }),
      trayOf('c', '2026-03-02T09:00:00Z', { crop: 'celery' }),
      trayOf('d', '2026-03-02T09:00:00Z'),
      ended('a', '2026-04-01T09:00:00Z'),
      ended('b', '2026-04-05T09:00:00Z'),
      // the name comes again in a later year of the bench
      trayOf('a', '2026-04-20T09:00:00Z', { crop: 'leek' }),
    ]);
    const { cycles } = cyclesAnswerSchema.parse(await cyclesAnswer(store, nowMs, calendar));
    expect(cycles).toEqual([
      { crop: 'leek', from: '2026-04-20T09:00:00Z', to: '2026-05-15T12:00:00Z', isOver: false, trayCount: 1 },
      {
        crop: 'celery',
        from: '2026-03-02T09:00:00Z',
        to: '2026-05-15T12:00:00Z',
        isOver: false,
        trayCount: 1,
      },
      { crop: 'leek', from: '2026-02-27T09:00:00Z', to: '2026-04-05T09:00:00Z', isOver: true, trayCount: 2 },
    ]);
  });
});

describeIf('chromium', 'curves of a week, or of a crop', () => {
  let browser: TestBrowser;
  let page: RunningPage;
  let tab: Page;

  beforeAll(async () => {
    const farm = await createDemoFarm();
    page = await pageOf(farm);
    browser = await sharedBrowser();
    tab = await browser.newPage(PHONE);
    await tab.goto(`${page.address}#curves`);
    await tab.locator('.plot canvas').waitFor();
    await tab.getByText('Other dates').tap();
  });
  afterAll(async () => {
    await browser.close();
    await page.close();
  });

  it('a week is one choice', async () => {
    const [, lastWeek] = weeksBefore(calendar.dayOf(SEASON_END_MS), 2);
    const asked = tab.waitForRequest(/api\/curves\?from=/);
    await tab.getByLabel('A week').selectOption({ index: 2 });
    const from = new URL((await asked).url()).searchParams.get('from');
    expect(from?.slice(0, 10)).toBe(lastWeek?.fromDay);
    await tab.locator('.answer[aria-busy=false]').waitFor();
  });

  it('a crop from its sowing to its end is one choice, and it alone is looked at', async () => {
    const picker = tab.getByLabel('A crop, from sowing to its end');
    await picker.locator('option').nth(1).waitFor({ state: 'attached' });
    const asked = tab.waitForRequest(/api\/curves\?from=.*crop=leek/);
    const leek = await picker.locator('option', { hasText: 'leek' }).first().getAttribute('value');
    await picker.selectOption(leek);
    await asked;
    await tab.locator('.answer[aria-busy=false]').waitFor();
    expect(await tab.getByRole('combobox', { name: /^Crop/ }).inputValue()).toBe('leek');
    // tall enough for all of it: what lies behind the bar of views is no target
    await tab.setViewportSize({ width: PHONE.viewport.width, height: 4000 });
    expect(await violations(tab)).toEqual([]);
  });
});
