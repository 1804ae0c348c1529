import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import { seasonAnswerSchema, seasonsAnswerSchema } from '../../shared/page/page-season.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import { farmCalendar } from '../../src/review/server/views/farm-calendar.js';
import { seasonAnswer } from '../../src/review/server/views/season-answer.js';
import { seasonsAnswer } from '../../src/review/server/views/seasons-answer.js';
import type { RunningPage } from '../../src/review/start-page.js';
import { createMemoryStore } from '../helpers/memory-store.js';
import { describeIf } from '../helpers/needs.js';
import { DESKTOP, sharedBrowser, type TestBrowser } from './browser.js';
import { createDemoFarm, type DemoFarm } from './demo-farm.js';
import { demoConfig, seasonFacts } from './demo-season.js';
import { pageOf } from './page-of.js';
import { violations } from './violations.js';

/** Two springs: the invented one, and eight days of the one before. */
async function twoSprings(): Promise<DemoFarm> {
  const farm = await createDemoFarm();
  const startMs = Date.parse('2025-03-20T00:00:00Z');
  const endMs = Date.parse('2025-03-28T00:00:00Z');
  await farm.store.keep([...seasonFacts(endMs, startMs, startMs)]);
  return farm;
}

describe('seasons', () => {
  it('begin with the year of the farm, and with July where the farm lies south', async () => {
    const { store } = await twoSprings();
    const nowMs = Date.parse('2026-05-15T15:10:00Z');
    const north = seasonsAnswerSchema.parse(await seasonsAnswer(store, demoConfig(), nowMs));
    expect(north.seasons.map(({ name }) => name)).toEqual(['2026', '2025']);
    expect(north.seasons[0]?.from).toBe('2025-12-31T23:00:00Z');
    const south = await seasonsAnswer(store, { ...demoConfig(), latitude: -35 }, nowMs);
    expect(south.seasons.map(({ name }) => name)).toEqual(['2025/26', '2024/25']);
  });

  it('add up: the rows are the farm, and the water is what was told and worked out', async () => {
    const { store } = await twoSprings();
    const span = { fromMs: Date.parse('2025-12-31T23:00:00Z'), toMs: Date.parse('2026-12-31T23:00:00Z') };
    const season = seasonAnswerSchema.parse(await seasonAnswer(store, span, farmCalendar('Europe/Berlin')));
    const facts = await store.facts(['watering'], span, 100_000);
    expect(season.wateringCount).toBe(facts.length);
    expect(season.trayCount).toBe(13);
    const sum = (pick: (row: (typeof season.rows)[number]) => number): number =>
      season.rows.reduce((total, row) => total + pick(row), 0);
    expect(sum(({ dryDownCount }) => dryDownCount)).toBe((await store.dryDownSummaries(span)).length);
    expect(sum(({ trayCount }) => trayCount)).toBe(13);
    // Each row's millilitres are rounded by themselves.
    expect(Math.abs(sum(({ ml }) => ml) - season.ml)).toBeLessThanOrEqual(season.rows.length);
    expect(season.sizes.map(({ blockSideMm }) => blockSideMm)).toEqual([19, 38, 51]);
  });
});

describe('the sum of a crop', () => {
  it('is of its trays alone: crops together are the farm, and calls for others are not in it', async () => {
    const { store } = await twoSprings();
    const span = { fromMs: Date.parse('2025-12-31T23:00:00Z'), toMs: Date.parse('2026-12-31T23:00:00Z') };
    const calendar = farmCalendar('Europe/Berlin');
    const farm = await seasonAnswer(store, span, calendar);
    const crops = [...new Set(farm.rows.flatMap(({ crop }) => crop ?? []))];
    const sums = await Promise.all(crops.map((crop) => seasonAnswer(store, span, calendar, crop)));
    expect(crops.length).toBeGreaterThan(5);
    for (const key of ['trayCount', 'wateringCount', 'callCount', 'tooDryCount'] as const)
      expect([key, sums.reduce((total, one) => total + one[key], 0)]).toEqual([key, farm[key]]);
    for (const [place, sum] of sums.entries())
      expect(new Set(sum.rows.map(({ crop }) => crop))).toEqual(new Set([crops[place]]));
    const none = await seasonAnswer(store, span, calendar, 'no such crop');
    expect([none.trayCount, none.wateringCount, none.callCount, none.rows]).toEqual([0, 0, 0, []]);
  });
});

describe('a tray id that is used for a second crop', () => {
  it('counts its waterings with the crop that stood in it then', async () => {
    const store = createMemoryStore();
    const dayMs = 86_400_000;
    const startMs = Date.parse('2026-04-01T06:00:00Z');
    const of = (crop: string, blockSideMm: number, firstDay: number): Fact[] =>
      Array.from({ length: 4 }, (_, day): Fact[] => {
        const atMs = startMs + (firstDay + day) * dayMs;
        return [
          { kind: 'watering', watering: { at: toInstant(atMs), tray: 't1', source: 'logged', ml: 100 } },
          {
            kind: 'dry-down',
            dryDown: {
              trayId: 't1',
              startedAtMs: atMs,
              endedAtMs: atMs + 23 * 3_600_000,
              startWaterContentM3PerM3: 0.5,
              endWaterContentM3PerM3: 0.25,
              hasProbe: false,
              crop,
              blockSideMm,
              blockCount: 40,
              samples: [],
            },
          },
        ];
      }).flat();
    await store.keep([...of('celery', 19, 0), ...of('basil', 38, 10)]);
    const span = { fromMs: startMs - dayMs, toMs: startMs + 20 * dayMs };
    const calendar = farmCalendar('Europe/Berlin');
    const farm = await seasonAnswer(store, span, calendar);
    expect(farm.rows.map((row) => [row.crop, row.blockSideMm, row.wateringCount, row.ml])).toEqual([
      ['celery', 19, 4, 400],
      ['basil', 38, 4, 400],
    ]);
    expect((await seasonAnswer(store, span, calendar, 'basil')).wateringCount).toBe(4);
  });
});

describeIf('chromium', 'a season on the page', () => {
  let browser: TestBrowser;
  let page: RunningPage;
  let tab: Page;

  beforeAll(async () => {
    const farm = await twoSprings();
    page = await pageOf(farm);
    browser = await sharedBrowser();
    tab = await browser.newPage({ ...DESKTOP, acceptDownloads: true });
    await tab.goto(`${page.address}#season`);
    await tab.locator('.picture svg').first().waitFor();
    await tab.getByRole('rowheader', { name: '2025', exact: true }).waitFor();
  });
  afterAll(async () => {
    await browser.close();
    await page.close();
  });

  it('stands beside the one before, is accessible, and lets that one go', async () => {
    expect(await violations(tab)).toEqual([]);
    await tab.getByRole('button', { name: '2025', exact: true }).click();
    await tab.getByRole('rowheader', { name: '2025', exact: true }).waitFor({ state: 'detached' });
  });

  const savedAs = async (name: string): Promise<{ file: string; text: string }> => {
    const [download] = await Promise.all([
      tab.waitForEvent('download'),
      tab.locator('figure').first().getByRole('button', { name }).click(),
    ]);
    const chunks: Buffer[] = [];
    for await (const chunk of await download.createReadStream()) chunks.push(chunk as Buffer);
    return { file: download.suggestedFilename(), text: Buffer.concat(chunks).toString('utf8') };
  };

  it('is kept as a drawing and as numbers', async () => {
    const svg = await savedAs('Picture (SVG)');
    expect(svg.file).toBe('season-19-mm.svg');
    expect(svg.text).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg"[^>]* width="960"/);
    expect(svg.text).toContain('<polyline');
    const csv = await savedAs('Numbers (CSV)');
    const rows = csv.text.trimEnd().split('\r\n');
    expect(rows[0]).toContain('Hours');
    expect(rows.length).toBeGreaterThan(5);
    expect(rows[1]?.split(',')[0]).toBe('0');
  });

  it('may be a week or a crop from its sowing on, beside its like, one step at a time', async () => {
    const chosen = (): Promise<string> =>
      tab.getByRole('combobox', { name: 'Which one' }).evaluate((select) => {
        const list = select as HTMLSelectElement;
        return list.selectedOptions[0]?.textContent ?? '';
      });
    await tab.getByRole('button', { name: 'Weeks', exact: true }).click();
    await tab.getByRole('rowheader', { name: /^week 20: 11 May – 17 May$/ }).waitFor();
    await tab.getByRole('rowheader', { name: /^week 19: 4 May – 10 May$/ }).waitFor();
    await tab.getByRole('button', { name: 'The one before' }).click();
    expect(await chosen()).toBe('week 19: 4 May – 10 May');
    await tab.getByRole('button', { name: 'The one after' }).click();
    expect(await chosen()).toBe('week 20: 11 May – 17 May');
    expect(await tab.getByRole('button', { name: 'The one after' }).isDisabled()).toBe(true);
    await tab.getByRole('button', { name: 'Crops', exact: true }).click();
    await tab.getByRole('combobox', { name: 'Which one' }).waitFor();
    const [crop] = (await chosen()).split(',');
    await tab
      .getByRole('rowheader', { name: new RegExp(`^\\d+ mm, ${crop}, `) })
      .first()
      .waitFor();
    const others = await tab.getByRole('rowheader', { name: /^\d+ mm, / }).allTextContents();
    expect(others.filter((one) => !one.includes(`, ${crop}, `))).toEqual([]);
    expect(await violations(tab)).toEqual([]);
  });

  it('water, probes and calibrations are kept as drawings too', async () => {
    // By keyboard: a second touch at one place, before one can have read what came, is taken for one press.
    await tab.evaluate(() => {
      let made: Promise<string> = Promise.resolve('');
      URL.createObjectURL = (blob: Blob) => {
        made = blob.text();
        return 'about:blank';
      };
      HTMLAnchorElement.prototype.click = function (this: HTMLAnchorElement) {
        const file = this.download;
        void made.then((text) => Object.assign(window, { saved: { file, text } }));
      };
    });
    for (const [view, drawn, name, file, part] of [
      ['water', '.jars', 'Picture (SVG): Water carried', 'water.svg', '<polygon'],
      ['water', '.jars', 'Picture (SVG): Tray by tray', 'water-by-tray.svg', '<circle'],
      ['probes', '.probe-course', 'Picture (SVG): temp-south', 'temp-south.svg', '<polyline'],
      [
        'probes',
        '.calibration',
        'Picture (SVG): moist-t1, Calibration',
        'moist-t1-calibration.svg',
        '<circle',
      ],
    ] as const) {
      await tab.evaluate((hash) => {
        location.hash = hash;
      }, view);
      await tab.locator(drawn).first().waitFor();
      await tab.getByRole('button', { name, exact: true }).press('Enter');
      const saved = () =>
        tab.evaluate(() => (window as unknown as { saved?: { file: string; text: string } }).saved);
      await expect.poll(async () => (await saved())?.file).toBe(file);
      const text = (await saved())?.text;
      expect(text).toContain(part);
      expect(text).not.toContain('NaN');
    }
  });
});
