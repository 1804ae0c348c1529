import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import type { RunningPage } from '../../src/review/start-page.js';
import { describeIf } from '../helpers/needs.js';
import { PHONE, sharedBrowser, type TestBrowser } from './browser.js';
import { createDemoFarm, type DemoFarm } from './demo-farm.js';
import { pageOf } from './page-of.js';

/** A few days are enough to act on. */
const FROM_MS = Date.parse('2026-05-11T00:00:00Z');
const WITHIN = { timeout: 15_000 };

describeIf('chromium', 'a phone without the network', () => {
  let browser: TestBrowser;
  let context: BrowserContext;
  let farm: DemoFarm;
  let page: RunningPage;
  let tab: Page;

  beforeAll(async () => {
    browser = await sharedBrowser();
  });
  afterAll(() => browser.close());
  beforeEach(async () => {
    farm = await createDemoFarm(FROM_MS);
    page = await pageOf(farm);
    context = await browser.newContext({ ...PHONE, serviceWorkers: 'allow' });
    context.setDefaultTimeout(15_000);
    tab = await context.newPage();
    await tab.goto(page.address);
    await tab.locator('.due').first().waitFor();
    // The page is kept from the first visit on; what it shows, from the first sign of life.
    await tab.evaluate(async () => (await navigator.serviceWorker.ready).scope);
    await expect
      .poll(() => tab.evaluate(() => localStorage.getItem('drybell.present')), WITHIN)
      .not.toBeNull();
  });
  afterEach(async () => {
    await context.close();
    await page.close();
  });

  it('opens the page anew with the farm as it last was and its age, keeps presses, and tells them when the network is back', async () => {
    const headline = await tab.getByRole('heading', { level: 1 }).textContent();
    await context.setOffline(true);
    await tab.reload();
    await tab.getByText(/^No contact since .* This is how the farm stood then/).waitFor();
    expect(await tab.getByRole('heading', { level: 1 }).textContent()).toBe(headline);
    for (const tray of ['t3', 't10']) {
      const card = tab.locator('.due', { hasText: tray }).first();
      // A thumb is slower than this test: what comes at once to the same place is taken for the same press.
      await expect
        .poll(async () => {
          const press = card.getByRole('button', { name: `${tray} watered` });
          if ((await press.getAttribute('aria-disabled')) === null) await press.click();
          return card.getByText('waits to be told').count();
        }, WITHIN)
        .toBe(1);
    }
    await tab.getByText('2 things wait to be told.').waitFor();
    await tab.locator('.due', { hasText: 't10' }).first().getByRole('button', { name: 'Undo' }).click();
    await tab.getByText('One thing waits to be told.').waitFor();

    await tab.reload();
    await tab.getByText('One thing waits to be told.').waitFor();
    expect(farm.commands).toEqual([]);
    await context.setOffline(false);
    await expect
      .poll(() => farm.commands, WITHIN)
      .toMatchObject([{ do: 'watered', tray: 't3', at: expect.stringMatching(/^2026-05-15T15:/) }]);
    await expect.poll(() => tab.getByText('waits to be told').count(), WITHIN).toBe(0);
    expect(farm.commands).toHaveLength(1);
  });

  it('what counts only from now is not told later: "away" is said not to have been told', async () => {
    await context.setOffline(true);
    await tab.getByText(/^No contact since/).waitFor();
    await tab.getByRole('button', { name: 'This phone' }).click();
    await tab.getByRole('button', { name: 'Away until tomorrow 07:00' }).click();
    await tab.getByRole('dialog').getByText('Not told: no contact with the house.').waitFor();
    expect(await tab.getByText('waits to be told.').count()).toBe(0);
  });

  it('can be put on the home screen: manifest with an icon, and a worker that answers for the page', async () => {
    const manifest = (await (await fetch(`${page.address}drybell.webmanifest`)).json()) as Record<
      string,
      unknown
    >;
    expect(manifest).toMatchObject({ name: 'Drybell', start_url: '/', display: 'standalone' });
    const session = await context.newCDPSession(tab);
    const { installabilityErrors } = await session.send('Page.getInstallabilityErrors');
    // A browser without a screen is "in-incognito"; what is wrong with the page itself is asked for.
    expect(installabilityErrors.map(({ errorId }) => errorId).filter((id) => id !== 'in-incognito')).toEqual(
      [],
    );
  });
});
