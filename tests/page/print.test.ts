import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { RunningPage } from '../../src/review/start-page.js';
import { describeIf } from '../helpers/needs.js';
import { sharedBrowser, type TestBrowser } from './browser.js';
import { createDemoFarm } from './demo-farm.js';
import { amongHouses, pageOf } from './page-of.js';

/** ISO 216 A4 upright, 210 × 297 mm, at 96 px to the inch, less the margins of 12 mm that are asked for. */
const PX_PER_MM = 96 / 25.4;
const MARGIN_MM = 12;
const PAPER = {
  width: Math.floor((210 - 2 * MARGIN_MM) * PX_PER_MM),
  height: Math.floor((297 - 2 * MARGIN_MM) * PX_PER_MM),
};

/** What lies beyond the paper's edge, or hides part of itself, when it is printed. */
function cut(): string[] {
  const wide = document.documentElement.clientWidth;
  const found: string[] = [];
  for (const element of document.querySelectorAll('main *')) {
    const { width, right } = element.getBoundingClientRect();
    if (width <= 1 || element.closest('.spoken, svg, canvas, .plot') !== null) continue;
    const name = `${element.tagName}.${element.getAttribute('class') ?? ''} "${(element.textContent ?? '').slice(0, 24)}"`;
    if (right > wide + 1) found.push(`${name} reaches ${Math.round(right)} of ${wide} px`);
    const { overflowX, overflowY } = getComputedStyle(element);
    if (element.getAnimations().length > 0)
      found.push(`${name} still moves, and is pale or not there on paper`);
    const hidesX = overflowX !== 'visible' && element.scrollWidth > element.clientWidth + 1;
    const hidesY = overflowY !== 'visible' && element.scrollHeight > element.clientHeight + 1;
    if (hidesX || hidesY) found.push(`${name} hides a part`);
  }
  return found.slice(0, 5);
}

describeIf('chromium', 'on paper', () => {
  let browser: TestBrowser;
  let page: RunningPage;
  let tab: Page;

  beforeAll(async () => {
    const farm = await createDemoFarm();
    page = await pageOf(amongHouses(farm));
    browser = await sharedBrowser();
    tab = await browser.newPage({ viewport: PAPER });
    await tab.goto(page.address);
    await tab.evaluate(() => localStorage.setItem('drybell.light', '"night"'));
    await tab.reload();
  });
  afterAll(async () => {
    await browser.close();
    await page.close();
  });

  it.each([
    ['season', '.picture svg'],
    ['curves', '.plot canvas'],
    ['curves/t1', '.plot canvas'],
    ['why/t4', '.picture svg'],
    ['water', '.jars'],
    ['probes', '.probe-course'],
    ['journal', '.line'],
    ['now', '.due'],
    ['houses', '.house-card'],
  ])('#%s is whole on A4, by day whatever light the phone has, and makes a PDF', async (view, drawn) => {
    await tab.emulateMedia({ media: 'screen' });
    await tab.evaluate((hash) => {
      location.hash = hash;
    }, view);
    await tab.locator(drawn).first().waitFor();
    await tab.emulateMedia({ media: 'print' });
    expect(await tab.evaluate(cut)).toEqual([]);
    expect(await tab.evaluate(() => getComputedStyle(document.body).backgroundColor)).toBe(
      'rgb(255, 253, 246)',
    );
    const margin = `${MARGIN_MM}mm`;
    const pdf = await tab.pdf({
      format: 'A4',
      printBackground: true,
      margin: { top: margin, right: margin, bottom: margin, left: margin },
      ...(process.env['DRYBELL_KEEP_PDF'] === undefined
        ? {}
        : { path: `${process.env['DRYBELL_KEEP_PDF']}/${view.replace('/', '-')}.pdf` }),
    });
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
  });
});
