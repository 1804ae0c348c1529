import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { en } from '../../src/review/page/texts/en/en.js';
import { es } from '../../src/review/page/texts/es/es.js';
import type { RunningPage } from '../../src/review/start-page.js';
import { describeIf } from '../helpers/needs.js';
import { PHONE, sharedBrowser, type TestBrowser } from './browser.js';
import { createDemoFarm } from './demo-farm.js';
import { SEASON_END_MS } from './demo-season.js';
import { type Heard, heard } from './heard.js';
import { amongHouses, pageOf } from './page-of.js';
import { wordsOf } from './words-of.js';

/** Two months: enough for every view, quicker than the season. */
const FROM_MS = SEASON_END_MS - 60 * 24 * 3_600_000;
const VIEWS = [
  ['now', '.now', 'Now'],
  ['curves', '.plot canvas', 'Curves'],
  ['curves/t1', '.plot canvas', 'Curves'],
  ['why/t4', '.picture svg', 'Why t4?'],
  ['season', '.picture svg', 'A season in sum'],
  ['water', '.jars', 'Water'],
  ['probes', '.probe', 'Probes'],
  ['journal', '.line', 'Journal'],
  ['houses', '.house-card', 'All houses'],
] as const;
const PRESSED = new Set(['button', 'link', 'textbox', 'combobox', 'checkbox', 'slider', 'searchbox']);
const LANDMARKS = new Set(['banner', 'main', 'navigation', 'heading']);

describeIf('chromium', 'what a reader hears', () => {
  let browser: TestBrowser;
  let page: RunningPage;
  let tab: Page;

  beforeAll(async () => {
    page = await pageOf(amongHouses(await createDemoFarm(FROM_MS)));
    browser = await sharedBrowser();
    tab = await browser.newPage({ ...PHONE, reducedMotion: 'reduce' });
    await tab.goto(page.address);
  });
  afterAll(async () => {
    await browser.close();
    await page.close();
  });

  const show = async (view: string, drawn: string): Promise<readonly Heard[]> => {
    await tab.evaluate((hash) => {
      location.hash = hash;
    }, view);
    await tab.locator(drawn).first().waitFor();
    return heard(tab);
  };

  it('on Now: the round, what calls, the benches, what to water, what can wait, the way to the views', async () => {
    const said = await show('now', '.now');
    const outline = said.filter(({ role }) => LANDMARKS.has(role)).map(({ name, role }) => name || role);
    expect(outline.map((name) => name.replace(/ \d.*$/, ''))).toEqual([
      'banner',
      'main',
      'Water',
      'Calls',
      'Bench south',
      'Bench north',
      'Water at',
      'Can wait',
      'Views of the farm',
    ]);
    const names = said.map(({ name }) => name);
    expect(names).toContain('t1 below the refill point, Driest blocks are dry');
    expect(names.filter((name) => /-\d+ % full/.test(name))).toEqual([]);
    const due = names.find((name) => name.startsWith('t2 lettuce'));
    expect(due).toMatch(/^t2 lettuce \d+ % full .*Driest blocks last .*More about t2$/);
  });

  it.each(VIEWS)('#%s: its title first, every press with a name of its own', async (view, drawn, title) => {
    const said = await show(view, drawn);
    expect(await tab.title()).toBe(`${title} · alder-row`);
    const inMain = said.slice(said.findIndex(({ role }) => role === 'main') + 1);
    const pressed = inMain.filter(({ role }) => PRESSED.has(role));
    expect(pressed.filter(({ name }) => name === '')).toEqual([]);
    const heading = inMain.findIndex(({ role }) => role === 'heading');
    const first = inMain.findIndex(({ role }) => PRESSED.has(role));
    expect(heading).toBeLessThan(first);
    const names = pressed.map(({ role, name }) => `${role} ${name}`);
    expect(names.filter((name, place) => names.indexOf(name) !== place)).toEqual([]);
  });

  it('whoever goes to another view is at its top; a choice within a view keeps its place', async () => {
    await show('now', '.now');
    await tab.getByRole('link', { name: 'Curves', exact: true }).press('Enter');
    await tab.locator('.plot canvas').first().waitFor();
    const focused = (): Promise<string> =>
      tab.evaluate(() => document.activeElement?.id || (document.activeElement?.tagName ?? ''));
    await expect.poll(focused).toBe('content');
    await tab.getByRole('combobox', { name: 'Choose a tray' }).focus();
    await tab.getByRole('combobox', { name: 'Choose a tray' }).selectOption('t1');
    await tab.getByRole('heading', { name: 'Drying curve of t1' }).waitFor();
    expect(await focused()).toBe('SELECT');
  });

  it('a table that hides a part of itself says so and takes the focus; one that does not is no stop', async () => {
    await show('season', '.picture svg');
    const wide = tab.getByRole('region', { name: /^Sizes and crops\. Push the table/ });
    await wide.waitFor();
    expect(await wide.getAttribute('tabindex')).toBe('0');
    await tab.getByText('Push the table to see the rest').first().waitFor();
    await tab.setViewportSize({ width: 1900, height: 1400 });
    await tab.getByRole('region', { name: /^The farm\. Push the table/ }).waitFor({ state: 'detached' });
    await tab.setViewportSize(PHONE.viewport);
  });

  it('in Spanish there is no English on any view, nor when a press is refused', async () => {
    await tab.evaluate(() => localStorage.setItem('drybell.language', '"es"'));
    await tab.reload();
    const english = wordsOf(en);
    for (const word of wordsOf(es)) english.delete(word);
    // a month in Spanish too; ids are the farm's own, and what the house said stands in the farm's language
    english.delete('may');
    const ids = /\b(alder-row|\w+-(south|north))\b/g;
    const leftovers = new Set<string>();
    for (const [view, drawn] of VIEWS) {
      for (const { name, role } of await show(view, drawn)) {
        const isHouses = role === 'paragraph' || /^(Bench|Probe|t\d+ \()/.test(name);
        const found = [...wordsOf(name.replaceAll(ids, ''))].filter((word) => english.has(word));
        if (found.length > 0 && !isHouses) leftovers.add(`${view}: ${found.join(' ')} in "${name}"`);
      }
    }
    expect([...leftovers]).toEqual([]);
    await show('now', '.now');
    await tab.route('**/api/command', (route) =>
      route.continue({ postData: '{"do":"nothing that is known"}' }),
    );
    await tab.getByRole('button', { name: es.tray.wateredFilled('t3') }).tap();
    await tab.locator('.told-refused', { hasText: es.tell.refusals['malformed-command'] }).waitFor();
  });
});
