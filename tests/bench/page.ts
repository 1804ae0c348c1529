import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import type { Clock, FactStore } from '../../src/monitor/ports/ports.js';
import { startPage } from '../../src/review/start-page.js';
import { StoreFeed } from '../../src/review/store-feed/store-feed.js';
import { openSqliteStore } from '../../src/store/sqlite/open-sqlite-store.js';
import { openBrowser, PHONE } from '../page/browser.js';
import { demoConfig, seasonFacts } from '../page/demo-season.js';
import { type Measurement, optionNumber, table } from './measurement.js';
import { asFacts, MINUTES_PER_DAY, YEAR_START_MS, YearOfReadings } from './store-parts/year-of-readings.js';

const help = `How long the page takes to draw a year: 10 probes at one-minute cadence, and a season of 13 trays with its hourly
forecasts, waterings and dry-downs, in the SQLite store. Chromium at phone size, as it is and with its processor slowed.

  --days N      days of readings (default 365: 5.3 million readings; 30 takes a few seconds)
  --slow N      how many times the processor is slowed in the second column (default 4)
  --repeats N   default 5`;

const MS_PER_DAY = 86_400_000;
const TARGET_MS = 100;
const MINUTES_AT_ONCE = 100;

const VIEWS = [
  { name: "one tray's curve, 1,000 buckets", hash: '#curves/t1', ready: '.plot canvas' },
  { name: 'all sizes, bands and tables', hash: '#curves', ready: '.plot canvas' },
  { name: 'water, by week and tray', hash: '#water', ready: '.jars' },
  { name: 'probes', hash: '#probes', ready: '.probe-course' },
] as const;

async function fillStore(store: FactStore, days: number): Promise<void> {
  const year = new YearOfReadings();
  for (let minute = 0; minute < days * MINUTES_PER_DAY; minute += MINUTES_AT_ONCE)
    await store.keep(
      Array.from({ length: MINUTES_AT_ONCE }, (_, n) => asFacts(year.minute(minute + n))).flat(),
    );
  let batch = [];
  for (const fact of seasonFacts(YEAR_START_MS + days * MS_PER_DAY, YEAR_START_MS, YEAR_START_MS)) {
    if (fact.kind === 'reading') continue;
    batch.push(fact);
    if (batch.length < 2000) continue;
    await store.keep(batch);
    batch = [];
  }
  await store.keep(batch);
  await store.flush();
}

/** Milliseconds from the press on "a year" until the drawing stands on the screen. */
async function drawMs(tab: Page, ready: string): Promise<number> {
  return tab.evaluate(async (selector) => {
    const press = [...document.querySelectorAll<HTMLButtonElement>('.span-bar button')].at(-1);
    const frame = (): Promise<unknown> => new Promise((resolve) => requestAnimationFrame(resolve));
    const before = document.querySelector(selector);
    const startedMs = performance.now();
    press?.click();
    const until = async (done: () => boolean): Promise<void> => {
      while (!done()) {
        if (performance.now() - startedMs > 60_000)
          throw new Error(`${selector} was not drawn within a minute`);
        await frame();
      }
    };
    const busy = (): string | null | undefined =>
      document.querySelector('.answer')?.getAttribute('aria-busy');
    await until(() => busy() === 'true');
    await until(() => busy() === 'false');
    await until(() => document.querySelector(selector) !== (selector.endsWith('canvas') ? before : null));
    await frame();
    return performance.now() - startedMs;
  }, ready);
}

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;

/** Medians over several fresh openings of a view: until it is drawn, and what the house's process worked for it. */
async function viewMs(tab: Page, address: string, view: (typeof VIEWS)[number], repeats: number) {
  const times: number[] = [];
  const houseCpuMs: number[] = [];
  for (let repeat = 0; repeat <= repeats; repeat++) {
    await tab.goto(`${address}${view.hash}`);
    await tab.reload();
    await tab.locator('.span-bar').waitFor();
    await tab.locator('.answer[aria-busy=false]').waitFor();
    const before = process.cpuUsage();
    times.push(await drawMs(tab, view.ready));
    const { user, system } = process.cpuUsage(before);
    houseCpuMs.push((user + system) / 1000);
  }
  return { drawnMs: median(times.slice(1)), houseCpuMs: median(houseCpuMs.slice(1)) };
}

export const measurement: Measurement = {
  help,
  run: async (options) => {
    const days = optionNumber(options, '--days', 365);
    const slow = optionNumber(options, '--slow', 4);
    const repeats = optionNumber(options, '--repeats', 5);
    const folder = mkdtempSync(join(tmpdir(), 'drybell-bench-page-'));
    const endMs = YEAR_START_MS + days * MS_PER_DAY;
    const clock: Clock = {
      nowMs: () => endMs,
      monotonicMs: () => performance.now(),
      sleep: (ms) => new Promise((resolve) => setTimeout(resolve, ms)),
    };
    const config = demoConfig();
    const store = openSqliteStore({ folder, clock, readingsDays: 800 });
    try {
      await fillStore(store, days);
      const feed = await StoreFeed.open({
        config,
        queries: store,
        nowMs: clock.nowMs,
        lookEveryMs: 3_600_000,
        complain: (cause) => {
          throw cause;
        },
      });
      const page = await startPage({
        config,
        queries: store,
        live: feed,
        listenHost: '127.0.0.1',
        listenPort: 0,
      });
      const browser = await openBrowser();
      const tab = await browser.newPage(PHONE);
      const processor = await tab.context().newCDPSession(tab);
      const rows: string[][] = [
        [
          'press on "a year" to drawn',
          'ms',
          "house's processor, ms",
          `ms, phone ${slow}x slowed`,
          'target ms',
        ],
      ];
      for (const view of VIEWS) {
        await processor.send('Emulation.setCPUThrottlingRate', { rate: 1 });
        const plain = await viewMs(tab, page.address, view, repeats);
        await processor.send('Emulation.setCPUThrottlingRate', { rate: slow });
        const slowed = await viewMs(tab, page.address, view, repeats);
        rows.push([
          view.name,
          ...[plain.drawnMs, plain.houseCpuMs, slowed.drawnMs].map((ms) => ms.toFixed(0)),
          String(TARGET_MS),
        ]);
      }
      console.log(table(rows));
      await browser.close();
      feed.close();
      await page.close();
    } finally {
      await store.close();
      rmSync(folder, { recursive: true, force: true });
    }
    return undefined;
  },
};
