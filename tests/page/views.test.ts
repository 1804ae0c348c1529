import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import type { RunningPage } from '../../src/review/start-page.js';
import { describeIf } from '../helpers/needs.js';
import { allDrawn, DESKTOP, PHONE, sharedBrowser, type TestBrowser } from './browser.js';
import { createDemoFarm } from './demo-farm.js';
import { amongHouses, pageOf } from './page-of.js';
import { violations } from './violations.js';

describeIf('chromium', 'every view of the page', () => {
  let browser: TestBrowser;
  let page: RunningPage;
  let context: BrowserContext;
  let tab: Page;
  let complaints: string[] = [];

  beforeAll(async () => {
    const farm = await createDemoFarm();
    page = await pageOf(amongHouses(farm));
    browser = await sharedBrowser();
  });
  afterAll(async () => {
    await browser.close();
    await page.close();
  });
  afterEach(() => {
    const said = complaints;
    complaints = [];
    expect(said).toEqual([]);
  });

  const openAt = async (size: typeof PHONE | typeof DESKTOP): Promise<void> => {
    context = await browser.newContext({ ...size, reducedMotion: 'reduce' });
    tab = await context.newPage();
    tab.on('pageerror', (error) => complaints.push(error.message));
    tab.on('console', (message) => {
      if (message.type() === 'error') complaints.push(message.text());
    });
    tab.on('request', (request) => {
      if (!request.url().startsWith(page.address)) complaints.push(`asked ${request.url()}`);
    });
    await tab.goto(page.address);
  };

  describe.each([
    ['phone', PHONE],
    ['desktop', DESKTOP],
  ] as const)('on a %s', (_name, size) => {
    beforeAll(() => openAt(size));
    afterAll(() => context.close());

    it.each([
      ['#now', 'Water 11 trays', undefined],
      ['#curves', 'How each size dries', '.plot canvas'],
      ['#curves/t1', 'Drying curve of t1', '.plot canvas'],
      ['#why/t4', 'Why t4?', '.picture svg'],
      ['#why/t2/2026-05-15T14:48:00Z', 'Why t2?', '.picture svg'],
      ['#season', 'A season in sum', '.picture svg'],
      ['#water', 'Water carried', '.jars'],
      ['#probes', 'Can the probes be trusted?', '.probe-course'],
      ['#journal', 'Journal', '.line'],
      ['#houses', 'All houses', '.house-card'],
    ])('%s is drawn, is accessible, and fits the width', async (view, title, drawing) => {
      await tab.setViewportSize(size.viewport);
      await tab.goto(`${page.address}${view}`);
      await tab.getByRole('heading', { level: 1, name: title }).waitFor();
      if (drawing !== undefined) await tab.locator(drawing).first().waitFor();
      const wider = await tab.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(wider).toBe(0);
      // A figure may still be on its way when the heading stands: its table is opened as soon as it is there.
      await tab.waitForFunction(() => {
        for (const details of document.querySelectorAll('details.table-of')) details.setAttribute('open', '');
        return document.querySelector('.answer[aria-busy=true], details.table-of:not(:has(table))') === null;
      });
      // Tall enough for all of it: what lies behind the bar of the round is judged too.
      await tab.setViewportSize({ width: size.viewport.width, height: 6000 });
      await allDrawn(tab);
      expect(await violations(tab)).toEqual([]);
      for (const image of await tab.locator('figure [role=img]').all())
        expect(await image.getAttribute('aria-label')).toMatch(/\w/);
      const figures = await tab.locator('figure').count();
      expect(await tab.locator('figure details.table-of table').count()).toBeGreaterThanOrEqual(figures);
    });
  });

  describe('weight', () => {
    it('the first visit costs less than 200 kB, the farm in it included', async () => {
      const sizes: Promise<number>[] = [];
      let isCounting = true;
      context = await browser.newContext(PHONE);
      tab = await context.newPage();
      tab.on('requestfinished', (request) => {
        if (!isCounting || request.url().includes('/api/live')) return;
        sizes.push(request.sizes().then((size) => size.responseBodySize + size.responseHeadersSize));
      });
      await tab.goto(page.address, { waitUntil: 'load' });
      await tab.locator('h1').waitFor();
      for (const view of ['curves', 'water', 'probes', 'journal']) {
        await tab.goto(`${page.address}#${view}`);
        await tab.locator('h1').waitFor();
      }
      // What ends later is not asked any more: the answer would not find its page.
      isCounting = false;
      const total = (await Promise.all(sizes)).reduce((sum, size) => sum + size, 0);
      expect(total).toBeGreaterThan(20_000);
      expect(total).toBeLessThan(200 * 1024);
      await context.close();
    });
  });
});
