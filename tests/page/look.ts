// Takes pictures of every view at 390 and 1440 px by day and by night, for a person to look at:
// npm run page:looks, or node dist/tests/page/look.js FOLDER VIEWS LIGHTS LANGUAGE
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { LANGUAGES } from '../../shared/base/language.js';
import { loadTexts } from '../../src/review/page/texts/texts.js';
import { openBrowser, PHONE } from './browser.js';
import { createDemoFarm } from './demo-farm.js';
import { SEASON_END_MS } from './demo-season.js';
import { amongHouses, pageOf } from './page-of.js';

const folder = process.argv[2] ?? 'dist/looks';
const VIEWS = [
  'now',
  'curves',
  'curves/t1',
  'why/t4',
  'season',
  'water',
  'probes',
  'journal',
  'houses',
  'sheet',
  'asking',
  'told',
  'new',
  'own',
  'offline',
];
const wanted = process.argv[3]?.split(',') ?? VIEWS;
const lights = process.argv[4]?.split(',') ?? ['day', 'night'];
const language = LANGUAGES.find((one) => one === process.argv[5]) ?? 'en';
const texts = await loadTexts(language);
/** Until a view is fetched and drawn. */
const DRAWN_MS = 800;
const MOST_LONG_PX = 6000;
const WIDE = { viewport: { width: 1440, height: 900 } } as const;
mkdirSync(folder, { recursive: true });
const farm = await createDemoFarm();
const page = await pageOf(amongHouses({ ...farm, config: { ...farm.config, language } }));
/** States that need a few presses first. */
const presses: Readonly<Record<string, (tab: Page) => Promise<void>>> = {
  sheet: (tab) => tab.getByRole('button', { name: texts.now.open('t4') }).click(),
  asking: (tab) => tab.getByRole('button', { name: texts.roundDone.start }).click(),
  later: (tab) => tab.getByRole('button', { name: texts.call.later }).first().click(),
  told: (tab) =>
    tab
      .getByRole('button', { name: new RegExp(`^${texts.tray.wateredFilled('t[0-9]+')}`) })
      .first()
      .click(),
  new: (tab) => tab.getByRole('button', { name: texts.now.newTray }).click(),
  test: async (tab) => {
    const at = new Date(SEASON_END_MS).toISOString();
    await farm.happen({ kind: 'test-call', at, test: 'test-1', ways: ['mqtt', 'sms'], bareSeen: true });
    await tab.getByRole('heading', { name: texts.testCall.title }).waitFor();
  },
  own: (tab) => tab.getByRole('button', { name: texts.own.title }).click(),
  offline: async (tab) => {
    await tab.context().setOffline(true);
    await tab
      .getByRole('button', { name: new RegExp(`^${texts.tray.wateredFilled('t[0-9]+')}`) })
      .first()
      .click();
  },
};
const browser = await openBrowser();
for (const [size, context] of [
  ['phone', PHONE],
  ['wide', WIDE],
] as const) {
  const tab = await browser.newPage(context);
  tab.on('console', (message) => console.log(size, message.text()));
  tab.on('pageerror', (error) => console.log(size, error.message));
  for (const light of lights)
    for (const view of wanted) {
      const press = presses[view];
      await tab.goto(`${page.address}#${press === undefined ? view : 'now'}`);
      await tab.evaluate((name) => localStorage.setItem('drybell.light', JSON.stringify(name)), light);
      await tab.reload();
      await tab.waitForTimeout(DRAWN_MS);
      await press?.(tab);
      await tab.waitForTimeout(DRAWN_MS);
      const name = `${view.replaceAll('/', '-')}-${context.viewport.width}-${light}`;
      await tab.screenshot({ path: join(folder, `${name}.png`), fullPage: size === 'wide' });
      if (size === 'phone' && press === undefined) {
        const allPx = await tab.evaluate(() => document.documentElement.scrollHeight);
        const height = Math.min(allPx, MOST_LONG_PX);
        await tab.setViewportSize({ width: context.viewport.width, height });
        await tab.screenshot({ path: join(folder, `${name}-long.png`) });
        await tab.setViewportSize(context.viewport);
      }
      await tab.context().setOffline(false);
    }
}
await browser.close();
await page.close();
