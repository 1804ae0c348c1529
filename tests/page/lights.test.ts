import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { RunningPage } from '../../src/review/start-page.js';
import { describeIf } from '../helpers/needs.js';
import { PHONE, sharedBrowser, type TestBrowser } from './browser.js';
import { createDemoFarm } from './demo-farm.js';
import { pageOf } from './page-of.js';
import { colourViolations } from './violations.js';

/** A few days are enough to look at. */
const FROM_MS = Date.parse('2026-05-11T00:00:00Z');
const VIEWS = [
  ['now', '.due'],
  ['curves', '.plot canvas'],
  ['curves/t1', '.plot canvas'],
  ['water', '.jars'],
  ['probes', '.probe-course'],
  ['journal', '.line'],
] as const;
const SHEETS = ['More about t4', 'New tray', 'This phone'] as const;

describeIf('chromium', 'the light that the page is read in', () => {
  let browser: TestBrowser;
  let page: RunningPage;

  beforeAll(async () => {
    const farm = await createDemoFarm(FROM_MS);
    page = await pageOf(farm);
    browser = await sharedBrowser();
  });
  afterAll(async () => {
    await browser.close();
    await page.close();
  });
  const lightOf = (tab: Page) => tab.evaluate(() => document.documentElement.dataset['light']);

  it('is what the phone asks for, until one is chosen; the choice stays', async () => {
    const context = await browser.newContext({ ...PHONE, colorScheme: 'dark' });
    const tab = await context.newPage();
    await tab.goto(page.address);
    await expect.poll(() => lightOf(tab)).toBe('night');
    await tab.emulateMedia({ colorScheme: 'light' });
    await expect.poll(() => lightOf(tab)).toBe('day');
    await tab.emulateMedia({ colorScheme: 'light', contrast: 'more' });
    await expect.poll(() => lightOf(tab)).toBe('sun');
    await tab.getByRole('button', { name: 'This phone' }).click();
    await tab.getByRole('button', { name: 'Night', exact: true }).click();
    expect(await lightOf(tab)).toBe('night');
    await tab.reload();
    await expect.poll(() => lightOf(tab)).toBe('night');
    await context.close();
  });

  describe.each(['sun', 'night'])('%s (views.test.ts judges the day, and all but the colours)', (light) => {
    it('axe-core finds nothing in any view or sheet', async () => {
      const context = await browser.newContext({ ...PHONE, reducedMotion: 'reduce' });
      const tab = await context.newPage();
      await tab.addInitScript((name) => localStorage.setItem('drybell.light', JSON.stringify(name)), light);
      await tab.goto(page.address);
      const found: string[] = [];
      const judge = async (what: string): Promise<void> => {
        for (const one of await colourViolations(tab)) found.push(`${what}: ${one}`);
      };
      for (const [view, drawn] of VIEWS) {
        await tab.goto(`${page.address}#${view}`);
        await tab.locator(drawn).first().waitFor();
        await tab.setViewportSize({ width: 390, height: 5000 });
        await judge(view);
      }
      await tab.goto(`${page.address}#now`);
      await tab.locator('.due').first().waitFor();
      for (const name of SHEETS) {
        await tab.getByRole('button', { name }).first().dispatchEvent('click');
        await tab.locator('dialog[open]').waitFor();
        await judge(name);
        await tab.keyboard.press('Escape');
        await tab.locator('dialog[open]').waitFor({ state: 'detached' });
      }
      await context.close();
      expect(found).toEqual([]);
    });
  });
});
