import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { RunningPage } from '../../src/review/start-page.js';
import { describeIf } from '../helpers/needs.js';
import { PHONE, sharedBrowser, type TestBrowser } from './browser.js';
import { createDemoFarm, type DemoFarm } from './demo-farm.js';
import { seasonFacts } from './demo-season.js';
import { pageOf } from './page-of.js';

const LAST_SPRING = { from: '2025-03-20T00:00:00Z', to: '2025-03-28T00:00:00Z' };

describeIf('chromium', 'first use: six things, by what stands on the screen', () => {
  let browser: TestBrowser;
  let farm: DemoFarm;
  let page: RunningPage;
  let tab: Page;
  let presses = 0;

  beforeAll(async () => {
    farm = await createDemoFarm();
    const startMs = Date.parse(LAST_SPRING.from);
    await farm.store.keep([...seasonFacts(Date.parse(LAST_SPRING.to), startMs, startMs)]);
    page = await pageOf(farm);
    browser = await sharedBrowser();
    tab = await browser.newPage(PHONE);
    await tab.goto(page.address);
    await tab.locator('.call').first().waitFor();
  });
  afterAll(async () => {
    await browser.close();
    await page.close();
  });

  const press = async (what: Locator): Promise<void> => {
    presses += 1;
    await what.tap();
  };
  const button = (name: string | RegExp): Locator => tab.getByRole('button', { name }).first();
  const link = (name: string | RegExp): Locator => tab.getByRole('link', { name }).first();
  const counted = async (task: () => Promise<void>): Promise<number> => {
    presses = 0;
    await task();
    return presses;
  };

  it('the tray that is next is named on the first screen: no press', async () => {
    const box = await tab.getByText('t2 (minis, lettuce) will be dry').first().boundingBox();
    expect((box?.y ?? PHONE.viewport.height) + (box?.height ?? 0)).toBeLessThan(PHONE.viewport.height);
  });

  it('why it called: one press', async () => {
    const count = await counted(async () => {
      await press(link('Why? What t2 rests on'));
      await tab.getByRole('heading', { name: 'What moved it' }).waitFor();
    });
    expect(count).toBe(1);
    await tab.goto(`${page.address}#now`);
  });

  it('that it is watered: one press; to take that back: one more, at the same place', async () => {
    const told = await counted(async () => {
      await press(button('Done: t2 watered'));
      await tab.getByRole('button', { name: 'Undo' }).first().waitFor();
    });
    const undone = await counted(() => press(button('Undo')));
    expect([told, undone]).toEqual([1, 1]);
    await expect.poll(() => farm.commands.at(-1)?.do, { timeout: 15_000 }).toBe('undo');
  });

  it("last spring's 19 mm curves: two presses", async () => {
    const count = await counted(async () => {
      await press(link('Curves'));
      await press(link('A season in sum'));
      await tab.getByRole('img', { name: /^Water in 19 mm blocks .* 2026, 2025\./ }).waitFor();
    });
    expect(count).toBe(2);
  });

  it('the phone set up, with a name: three presses; a light of its own is one more', async () => {
    await tab.goto(`${page.address}#now`);
    const count = await counted(async () => {
      await press(button('This phone'));
      presses += 1;
      await tab.getByRole('dialog').getByRole('textbox').first().fill('Anna');
      await press(button('Close'));
    });
    expect(count).toBe(3);
    await press(button('This phone'));
    await press(button('In the sun'));
    await press(button('Close'));
    expect(await tab.evaluate(() => document.documentElement.dataset['light'])).toBe('sun');
  });
});
