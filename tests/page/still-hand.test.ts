import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import type { RunningPage } from '../../src/review/start-page.js';
import { describeIf } from '../helpers/needs.js';
import { openBrowser, PHONE } from './browser.js';
import { createDemoFarm, type DemoFarm } from './demo-farm.js';
import { pageOf } from './page-of.js';

/** A few days are enough to act on. */
const FROM_MS = Date.parse('2026-05-11T00:00:00Z');
/** A wet thumb presses again when it is not sure; the house has answered by then, and the list would have moved. */
const AGAIN_AFTER_MS = 700;

describeIf('chromium', 'a hand that rests on the page', () => {
  let browser: Browser;
  let farm: DemoFarm;
  let page: RunningPage;
  let tab: Page;

  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser.close());
  beforeEach(async () => {
    farm = await createDemoFarm(FROM_MS);
    page = await pageOf(farm);
    tab = await (await browser.newContext(PHONE)).newPage();
    tab.setDefaultTimeout(8_000);
    await tab.goto(page.address);
    await tab.locator('.due').first().waitFor();
  });
  afterEach(async () => {
    await tab.context().close();
    await page.close();
  });

  /** Two presses at the middle of what has that name, the second wherever the page is by then. */
  const pressTwice = async (name: string | RegExp): Promise<void> => {
    const target = tab.getByRole('button', { name }).first();
    await target.scrollIntoViewIfNeeded();
    const box = await target.boundingBox();
    if (box === null) throw new Error(`${String(name)} is not on the page`);
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    // Each touch carries its time: a busy machine may be late with the second, the thumb was not.
    const touches = await tab.context().newCDPSession(tab);
    const firstS = Date.now() / 1000;
    for (const afterMs of [0, AGAIN_AFTER_MS]) {
      const timestamp = firstS + afterMs / 1000;
      await touches.send('Input.dispatchTouchEvent', {
        type: 'touchStart',
        touchPoints: [{ x, y }],
        timestamp,
      });
      await touches.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [], timestamp });
      await tab.waitForTimeout(AGAIN_AFTER_MS);
    }
  };
  const doings = (): string[] =>
    farm.commands.map((command) => [command.do, 'tray' in command ? command.tray : ''].join(' ').trim());

  it.each(['t3', 't10'])('two presses on %s water that tray alone', async (tray) => {
    await pressTwice(`${tray} watered`);
    expect(doings()).toEqual([`watered ${tray}`]);
  });

  it('two presses on what ends a call water its tray alone, and on "seen" see one call', async () => {
    await pressTwice(/^Seen: Needs water: t2/);
    expect(doings()).toEqual(['acknowledge']);
    expect(await tab.locator('.later').count()).toBe(0);
    await pressTwice('Done: t2 watered');
    expect(doings()).toEqual(['acknowledge', 'watered t2']);
  });

  it('two presses on "Round done" open its question and do not answer it', async () => {
    await pressTwice('Round done');
    expect(doings()).toEqual([]);
    await tab.getByText('Which ones got water?').waitFor();
  });

  it('two presses in a sheet that closes tell one thing', async () => {
    await tab.getByRole('button', { name: 'More about t4' }).click();
    await tab.getByRole('dialog').waitFor();
    await tab.waitForTimeout(AGAIN_AFTER_MS);
    await pressTwice('drying');
    expect(doings()).toEqual(['looked t4']);
    await expect.poll(() => tab.getByRole('dialog').count()).toBe(0);
  });

  it('a press just after on what lay beside it all the while is another press', async () => {
    await tab.evaluate(() => {
      location.hash = 'water';
    });
    await tab.locator('.jars').waitFor();
    const row = tab.locator('.save-row').first();
    const [picture, numbers] = [row.getByRole('button').nth(0), row.getByRole('button').nth(1)];
    await numbers.scrollIntoViewIfNeeded();
    const [above, below] = [await picture.boundingBox(), await numbers.boundingBox()];
    if (above === null || below === null) throw new Error('there is nothing to keep on the page');
    const x = Math.max(above.x, below.x) + 10;
    const saved: string[] = [];
    tab.on('download', (download) => saved.push(download.suggestedFilename()));
    await tab.touchscreen.tap(x, above.y + above.height - 4);
    await tab.touchscreen.tap(x, below.y + 4);
    await expect.poll(() => saved).toEqual(['water.svg', 'water.csv']);
  });

  it('what was pressed stays under the finger with its undo beside it, and goes when the hand is away', async () => {
    const card = tab.locator('.due', { hasText: 't3' }).first();
    const press = card.getByRole('button', { name: 't3 watered' });
    await press.scrollIntoViewIfNeeded();
    const before = await press.boundingBox();
    await press.tap();
    const undo = card.getByRole('button', { name: 'Undo' });
    await undo.waitFor();
    const undoBox = await undo.boundingBox();
    const mark = await card.locator('.press-water').boundingBox();
    expect(Math.abs((mark?.y ?? Number.NaN) - (before?.y ?? Number.NaN))).toBeLessThan(2);
    expect(Math.abs((undoBox?.y ?? 0) - (before?.y ?? 0))).toBeLessThan(60);
    await card.waitFor({ state: 'detached' });

    const next = tab.locator('.due', { hasText: 't10' }).first();
    await next.getByRole('button', { name: 't10 watered' }).tap();
    await next.getByRole('button', { name: 'Undo' }).tap();
    await expect.poll(doings).toEqual(['watered t3', 'watered t10', 'undo']);
  });
});
