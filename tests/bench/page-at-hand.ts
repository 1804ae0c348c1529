import type { Page } from 'playwright-core';
import { startPage } from '../../src/review/start-page.js';
import { allDrawn, openBrowser, PHONE } from '../page/browser.js';
import { createDemoFarm } from '../page/demo-farm.js';
import { manyTrays } from '../page/many-trays.js';
import { type Measurement, optionNumber, table } from './measurement.js';

const help = `How the page is at hand: on a phone whose processor is slowed, how long from opening it until the first tray can be pressed,
and how evenly a farm of many trays scrolls: three times each, the middle one is told. An empty page of the same height, scrolled in the
same minute, shows what this machine holds up by itself.

  --trays N     trays on the benches (default 200)
  --slow N      how many times the processor is slowed (default 4)
  --repeats N   default 5`;

const TARGETS = { pressedMs: 1000, frameMs: 32 } as const;
const PX_A_FRAME = 40;
const SCROLLS = 3;
/** Until a page that was sent back to its top draws again what it holds back while it moves. */
const STILL_MS = 300;

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;

/** From the navigation until a press for water stands on the screen and is heard. */
async function pressedMs(tab: Page, address: string): Promise<number> {
  await tab.goto(`${address}?${Math.random()}`, { waitUntil: 'commit' });
  await tab.locator('.press-water').first().waitFor();
  return tab.evaluate(async () => {
    await new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve, 0)));
    return performance.now();
  });
}

/** Length of every frame while the page is scrolled from its top to its end, ms. */
function scrollFrames(pxAFrame: number): Promise<number[]> {
  return new Promise((resolve) => {
    const frames: number[] = [];
    let before = performance.now();
    const step = (now: number): void => {
      frames.push(now - before);
      before = now;
      const { scrollHeight, clientHeight } = document.documentElement;
      if (window.scrollY + clientHeight >= scrollHeight - 1) return resolve(frames.slice(1));
      window.scrollBy({ top: pxAFrame, behavior: 'instant' });
      requestAnimationFrame(step);
    };
    requestAnimationFrame(step);
  });
}

/** The scroll in the middle of several by its frames that are too long. */
async function middleScroll(tab: Page): Promise<number[]> {
  const scrolls: number[][] = [];
  for (let n = 0; n < SCROLLS; n++) {
    await tab.evaluate(() => window.scrollTo(0, 0));
    await tab.waitForTimeout(STILL_MS);
    scrolls.push(await tab.evaluate(scrollFrames, PX_A_FRAME));
  }
  scrolls.sort((a, b) => tooLong(a) - tooLong(b));
  return scrolls[SCROLLS >> 1] ?? [];
}

const tooLong = (frames: readonly number[]): number => frames.filter((ms) => ms > TARGETS.frameMs).length;

export const measurement: Measurement = {
  help,
  run: async (options) => {
    const trays = optionNumber(options, '--trays', 200);
    const slow = optionNumber(options, '--slow', 4);
    const repeats = optionNumber(options, '--repeats', 5);
    const farm = await createDemoFarm();
    const page = await startPage({
      config: farm.config,
      queries: farm.store,
      live: manyTrays(farm.feed, trays),
      listenHost: '127.0.0.1',
      listenPort: 0,
    });
    const browser = await openBrowser();
    const tab = await browser.newPage(PHONE);
    const processor = await tab.context().newCDPSession(tab);
    await processor.send('Network.setCacheDisabled', { cacheDisabled: true });
    const rows: string[][] = [
      [
        `${trays} trays`,
        'to the first press, ms',
        'frames',
        'middle frame, ms',
        'longest, ms',
        `over ${TARGETS.frameMs} ms`,
      ],
    ];
    for (const rate of [1, slow]) {
      await processor.send('Emulation.setCPUThrottlingRate', { rate });
      const opened: number[] = [];
      for (let n = 0; n < repeats; n++) opened.push(await pressedMs(tab, page.address));
      const told = rate === 1 ? 'as it is' : `${rate}x slowed`;
      const row = (when: string, frames: readonly number[]): string[] => [
        `${told}, ${when}`,
        `${median(opened).toFixed(0)} (target ${TARGETS.pressedMs} slowed)`,
        String(frames.length),
        median(frames).toFixed(1),
        Math.max(...frames).toFixed(1),
        String(tooLong(frames)),
      ];
      rows.push(row('scrolled at once', await tab.evaluate(scrollFrames, PX_A_FRAME)));
      await allDrawn(tab);
      const heightPx = await tab.evaluate(() => document.documentElement.scrollHeight);
      rows.push(row('when all is drawn', await middleScroll(tab)));
      await tab.goto('about:blank');
      await tab.setContent(`<!doctype html><body style="height:${heightPx}px"></body>`);
      rows.push(row('an empty page as high', await middleScroll(tab)));
    }
    console.log(table(rows));
    await browser.close();
    await page.close();
    return undefined;
  },
};
