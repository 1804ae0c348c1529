import type { BrowserContext, Page, Worker } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import { en } from '../../src/review/page/texts/en/en.js';
import type { RunningPage } from '../../src/review/start-page.js';
import { describeIf } from '../helpers/needs.js';
import { PHONE, sharedBrowser, type TestBrowser } from '../page/browser.js';
import { createDemoFarm } from '../page/demo-farm.js';
import { SEASON_END_MS } from '../page/demo-season.js';
import { pageOf } from '../page/page-of.js';

/** What the worker of the page sees, as far as it is used here. */
interface WorkerScope {
  readonly registration: ServiceWorkerRegistration;
  readonly clients: { openWindow(address: string): Promise<null> };
  readonly focused: string[];
  readonly opened: string[];
  dispatchEvent(event: Event): boolean;
}

describeIf('chromium', 'a notification that is pressed', () => {
  let browser: TestBrowser;
  let page: RunningPage;
  let context: BrowserContext;
  let tab: Page;
  let worker: Worker;

  beforeAll(async () => {
    page = await pageOf(await createDemoFarm(SEASON_END_MS - 4 * 24 * 3_600_000));
    browser = await sharedBrowser('whole');
    context = await browser.newContext({
      serviceWorkers: 'allow',
      ...PHONE,
      permissions: ['notifications'],
      reducedMotion: 'reduce',
    });
    tab = await context.newPage();
    await tab.goto(page.address);
    await tab.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    const [first] = context.serviceWorkers();
    worker = first ?? (await context.waitForEvent('serviceworker'));
    // A browser lets a worker focus and open windows after a person's press alone, which no test can make on a notification:
    // those two are noted, all else is the worker's own.
    await worker.evaluate(() => {
      const scope = globalThis as unknown as WorkerScope & { WindowClient: { prototype: object } };
      Object.assign(scope, { focused: [], opened: [] });
      Object.assign(scope.WindowClient.prototype, {
        focus(this: { url: string }) {
          scope.focused.push(this.url);
          return Promise.resolve(this);
        },
      });
      scope.clients.openWindow = (address) => {
        scope.opened.push(address);
        return Promise.resolve(null);
      };
    });
  });
  afterAll(async () => {
    await browser.close();
    await page.close();
  });
  beforeEach(() =>
    worker.evaluate(() => {
      const scope = globalThis as unknown as WorkerScope;
      scope.focused.length = 0;
      scope.opened.length = 0;
    }),
  );

  /** Shows a call as the push does, and presses it. */
  const pressCall = (): Promise<void> =>
    worker.evaluate(async () => {
      const scope = globalThis as unknown as WorkerScope;
      await scope.registration.showNotification('alder-row', { body: 't2 will be dry.', tag: 'a1' });
      const [notification] = await scope.registration.getNotifications();
      if (notification === undefined) throw new TypeError('nothing is shown');
      const Pressed = (globalThis as unknown as Record<string, typeof Event>)['NotificationEvent'];
      if (Pressed === undefined) throw new TypeError('this browser has no notifications');
      scope.dispatchEvent(new Pressed('notificationclick', { notification } as EventInit));
    });
  const noted = (): Promise<{ focused: string[]; opened: string[]; left: number }> =>
    worker.evaluate(async () => {
      const { focused, opened, registration } = globalThis as unknown as WorkerScope;
      return { focused, opened, left: (await registration.getNotifications()).length };
    });

  it('brings the open page to its calls, whatever view it shows and whatever lies over it', async () => {
    await tab.evaluate(() => {
      location.hash = '#journal';
    });
    await tab.getByRole('heading', { level: 1, name: en.journal.title }).waitFor();
    await tab.getByRole('button', { name: en.own.title }).tap();
    await tab.locator('dialog[open]').waitFor();
    await pressCall();
    await tab.locator('.call').first().waitFor();
    expect(await tab.locator('dialog[open]').count()).toBe(0);
    await expect
      .poll(noted)
      .toMatchObject({ focused: [expect.stringContaining(page.address)], opened: [], left: 0 });
  });

  it('opens the page at its calls where none is open', async () => {
    await tab.goto('about:blank');
    await expect
      .poll(async () => {
        await pressCall();
        return (await noted()).opened.at(-1);
      })
      .toBe('/#now');
  });
});
