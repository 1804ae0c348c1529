import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { LANGUAGES } from '../../shared/base/language.js';
import { loadTexts, type Texts } from '../../src/review/page/texts/texts.js';
import type { RunningPage } from '../../src/review/start-page.js';
import { describeIf } from '../helpers/needs.js';
import { allDrawn, sharedBrowser, type TestBrowser } from './browser.js';
import { createDemoFarm } from './demo-farm.js';
import { SEASON_END_MS } from './demo-season.js';
import { amongHouses, pageOf } from './page-of.js';

/** As long as the configuration allows, without a place to break it. */
const LONGEST = 'celeriac'.repeat(5);
/** Phones upright from the narrowest to the widest, and the narrowest on its side. */
const SIZES = [
  [320, 640],
  [390, 844],
  [430, 932],
  [640, 320],
] as const;
/** In another language the words are longer or shorter; by night everything stands where it does by day. */
const LIGHTS = { en: ['day', 'sun'], es: ['day'] } as const;
const TEXT_PERCENT = [100, 200] as const;
const LEAST_TARGET_PX = 44;
const VIEWS = [
  ['now', '.now'],
  ['curves', '.plot canvas'],
  [`curves/${LONGEST}`, '.plot canvas'],
  [`why/${LONGEST}`, '.picture svg'],
  ['season', '.picture svg'],
  ['water', '.jars'],
  ['probes', '.probe'],
  ['journal', '.line'],
  ['houses', '.house-card'],
] as const;

/** What sticks out of the screen, is cut without saying so, or is too small for a wet thumb. */
function faults(leastTargetPx: number): string[] {
  const wide = document.documentElement.clientWidth;
  const name = (element: Element): string =>
    `${element.tagName.toLowerCase()}.${element.getAttribute('class') ?? ''} "${(element.textContent ?? '').trim().slice(0, 24)}"`;
  const isShown = (element: Element): boolean => {
    const { width, height } = element.getBoundingClientRect();
    const style = getComputedStyle(element);
    return width > 1 && height > 1 && style.visibility !== 'hidden' && style.display !== 'none';
  };
  /** Inside something that is meant to be pushed sideways, as a wide table is. */
  const scrolls = (element: Element | null): boolean =>
    element !== null &&
    (['auto', 'scroll'].includes(getComputedStyle(element).overflowX) || scrolls(element.parentElement));
  const found: string[] = [];
  if (document.documentElement.scrollWidth > wide)
    found.push(`page ${document.documentElement.scrollWidth} px`);
  for (const element of document.querySelectorAll('body *')) {
    if (!isShown(element) || element.closest('.spoken, svg, canvas, .plot') !== null) continue;
    const box = element.getBoundingClientRect();
    if ((box.right > wide + 1 || box.left < -1) && !scrolls(element.parentElement))
      found.push(`${name(element)} reaches ${Math.round(box.right)} px`);
    const { overflowX } = getComputedStyle(element);
    if (['hidden', 'clip'].includes(overflowX) && element.scrollWidth > element.clientWidth + 1)
      found.push(`${name(element)} is cut`);
  }
  for (const target of document.querySelectorAll('button, a[href], summary, select, label, input')) {
    if (!isShown(target) || target.closest('.skip, p, .spoken') !== null) continue;
    if (target.matches('input') && target.closest('label') !== null) continue;
    if (target.matches('label') && target.querySelector('input[type=checkbox]') === null) continue;
    const { width, height } = target.getBoundingClientRect();
    if (Math.min(width, height) < leastTargetPx - 0.5)
      found.push(`${name(target)} is ${Math.round(width)} × ${Math.round(height)} px`);
  }
  return found.slice(0, 5);
}

describeIf('chromium', 'at the bench, with the longest names', () => {
  describe.each(LANGUAGES)('in %s', (language) => {
    let browser: TestBrowser;
    let page: RunningPage;
    let tab: Page;
    let texts: Texts;

    beforeAll(async () => {
      texts = await loadTexts(language);
      const farm = await createDemoFarm();
      const at = new Date(SEASON_END_MS - 60_000).toISOString();
      await farm.happen({ kind: 'note', at, tray: 't2', text: 'aphids'.repeat(34), by: 'A'.repeat(40) });
      page = await pageOf(amongHouses({ ...farm, config: { ...farm.config, language } }));
      browser = await sharedBrowser();
      tab = await (
        await browser.newContext({ isMobile: true, hasTouch: true, serviceWorkers: 'allow' })
      ).newPage();
      // The same farm, but the first-called tray, its probe, bench, crop and the farm itself named as long as can be.
      await tab.route('**/*', async (route) => {
        const { pathname } = new URL(route.request().url());
        if (pathname === '/api/live') return route.abort();
        if (pathname === '/api/phone') return route.fallback();
        if (pathname !== '/' && !pathname.startsWith('/api/')) return route.continue();
        const asked = route.request().url().replace(LONGEST, 't2');
        const reply = await route.fetch({ url: asked });
        const body = (await reply.text())
          .replaceAll('"t2"', `"${LONGEST}"`)
          .replaceAll('"south"', `"${'south'.repeat(8)}"`)
          .replaceAll('"lettuce"', `"${'lettuce-'.repeat(5)}"`)
          .replaceAll('"moist-t5"', `"${'moist'.repeat(8)}"`)
          .replaceAll('"alder-row"', `"${'alderrow'.repeat(5)}"`);
        return route.fulfill({ response: reply, body });
      });
      // A phone that is called, among others, with names as long as can be and a push service in trouble.
      const phone = {
        name: LONGEST,
        sinceAt: new Date(SEASON_END_MS).toISOString(),
        trouble: `${LONGEST} does not answer within 20 s; look at the way to the internet`,
      };
      const answer = {
        publicKey: 'B'.repeat(87),
        phone,
        phones: [phone, { ...phone, name: 'A'.repeat(40) }],
      };
      await tab.route('**/api/phone', (route) => route.fulfill({ json: answer }));
      await tab.goto(page.address);
      await tab.locator('.contact-lost').waitFor();
    });
    afterAll(async () => {
      await browser.close();
      await page.close();
    });

    /** Every size, text and light; the faults of each once. */
    const judgeAll = async (sizes: readonly (typeof SIZES)[number][] = SIZES): Promise<string[]> => {
      const found = new Set<string>();
      for (const [width, height] of sizes) {
        await tab.setViewportSize({ width, height });
        for (const percent of TEXT_PERCENT)
          for (const light of LIGHTS[language]) {
            await tab.evaluate(
              ([share, name]) => {
                document.documentElement.style.fontSize = `${share}%`;
                document.documentElement.dataset['light'] = name;
              },
              [percent, light] as const,
            );
            const here = await tab.evaluate(faults, LEAST_TARGET_PX);
            for (const fault of here) found.add(`${width}×${height}, text ${percent} %, ${light}: ${fault}`);
          }
      }
      return [...found];
    };
    const show = async (view: string, drawn: string): Promise<void> => {
      await tab.setViewportSize({ width: 390, height: 844 });
      await tab.evaluate((hash) => {
        document.documentElement.style.fontSize = '100%';
        location.hash = hash;
      }, view);
      await tab.locator(drawn).first().waitFor();
    };
    /** Pressed wherever it lies, under a bar or beyond the edge: what opens is judged, not the way there. */
    const press = async (name: string | RegExp): Promise<void> => {
      await tab.getByRole('button', { name }).first().dispatchEvent('click');
    };

    it.each(VIEWS)('#%s fits, as it is and with everything in it opened', async (view, drawn) => {
      await show(view, drawn);
      // what is seen while all is shut is seen as well when all is opened: the narrowest tells the difference
      const found = await judgeAll(SIZES.slice(0, 1));
      await tab.evaluate(() => {
        for (const details of document.querySelectorAll('details')) details.open = true;
      });
      await allDrawn(tab);
      expect([...new Set([...found, ...(await judgeAll())])]).toEqual([]);
    });

    it.each([
      [
        'a tray’s sheet',
        ({ now }: Texts) => now.open(LONGEST),
        ({ tray }: Texts) => [tray.weigh, tray.move, tray.potOn, tray.attach, tray.end],
      ],
      ['a new tray’s sheet', ({ now }: Texts) => now.newTray, () => []],
      ['what belongs to this phone, which is called', ({ own }: Texts) => own.title, () => []],
    ] as const)('%s fits, with each of its questions', async (_name, opener, questions) => {
      await show('now', '.now');
      await press(opener(texts));
      await tab.locator('dialog[open]').waitFor();
      if (opener(texts) === texts.own.title) await press(texts.calls.try);
      const found = await judgeAll();
      for (const question of questions(texts)) {
        await tab
          .getByRole('dialog')
          .getByRole('button', { name: question, exact: true })
          .dispatchEvent('click');
        found.push(...(await judgeAll()));
      }
      await tab.keyboard.press('Escape');
      await tab.locator('dialog[open]').waitFor({ state: 'detached' });
      expect(found).toEqual([]);
    });

    it('what is asked and what was told fits', async () => {
      await show('now', '.now');
      await press(texts.call.later);
      await press(texts.roundDone.start);
      await press(texts.tray.wateredFilled(LONGEST));
      await tab.locator('.told').waitFor();
      expect(await judgeAll()).toEqual([]);
    });
  });
});
