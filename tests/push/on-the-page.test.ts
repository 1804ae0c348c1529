import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { messagingSchema } from '../../shared/config/messaging.js';
import { createPublisher } from '../../src/messaging/publisher.js';
import type { Publisher } from '../../src/monitor/ports/ports.js';
import { en } from '../../src/review/page/texts/en/en.js';
import { type RunningPage, startPage } from '../../src/review/start-page.js';
import { describeIf, toolPath } from '../helpers/needs.js';
import { quietLog } from '../messaging/quiet-log.js';
import { PHONE, sharedBrowser, type TestBrowser } from '../page/browser.js';
import { createDemoFarm } from '../page/demo-farm.js';
import { SEASON_END_MS } from '../page/demo-season.js';
import { violations } from '../page/violations.js';
import { FakeService } from './fake-service.js';

const WITHIN = { timeout: 15_000 };
const words = en.calls;

describeIf('chromium', 'a phone set up on its page to be called', () => {
  describe.skipIf(toolPath('openssl') === undefined)('with a push service of the test’s own', () => {
    let browser: TestBrowser;
    let service: FakeService;
    let publisher: Publisher;
    let page: RunningPage;
    let context: BrowserContext;

    beforeAll(async () => {
      service = await new FakeService().listen();
      publisher = await createPublisher({
        farm: 'alder-row',
        config: messagingSchema.parse({
          listenPort: 0,
          push: { privateHosts: ['localhost'], caFile: service.certificates.ca },
        }),
        drive: 'live',
        timeZone: 'Europe/Berlin',
        nowMs: () => SEASON_END_MS,
        log: quietLog,
      });
      const farm = await createDemoFarm(SEASON_END_MS - 4 * 24 * 3_600_000);
      page = await startPage({
        config: farm.config,
        queries: farm.store,
        live: farm.feed,
        phones: publisher.phones,
        listenHost: '127.0.0.1',
        listenPort: 0,
      });
      browser = await sharedBrowser('whole');
    });
    afterAll(async () => {
      await browser.close();
      await page.close();
      await publisher.close();
      await service.close();
    });
    afterEach(() => context.close());

    /** A phone whose browser subscribes at the test's service: the browser here has no push service to go to. */
    async function openPhone(init?: () => void): Promise<Page> {
      context = await browser.newContext({
        serviceWorkers: 'allow',
        ...PHONE,
        permissions: ['notifications'],
        reducedMotion: 'reduce',
      });
      context.setDefaultTimeout(WITHIN.timeout);
      const tab = await context.newPage();
      await tab.addInitScript((subscription) => {
        const key = { value: null as ArrayBuffer | null };
        const made = {
          endpoint: subscription.endpoint,
          get options() {
            return { applicationServerKey: key.value };
          },
          toJSON: () => subscription,
          unsubscribe: () => {
            key.value = null;
            return Promise.resolve(true);
          },
        };
        const bytes = (text: string): ArrayBuffer =>
          Uint8Array.from(atob(text.replaceAll('-', '+').replaceAll('_', '/')), (one) => one.charCodeAt(0))
            .buffer;
        Object.assign(PushManager.prototype, {
          getSubscription: () => Promise.resolve(key.value === null ? null : made),
          subscribe: ({ applicationServerKey }: { applicationServerKey: string }) => {
            key.value = bytes(applicationServerKey);
            return Promise.resolve(made);
          },
        });
      }, service.subscribe('anna'));
      if (init !== undefined) await tab.addInitScript(init);
      await tab.goto(page.address);
      await tab.getByRole('button', { name: en.own.title }).click();
      return tab;
    }

    it('in three presses, and a call comes through to the screen', async () => {
      const tab = await openPhone();
      const complaints: string[] = [];
      tab.on('console', (message) => {
        if (message.type() === 'error') complaints.push(message.text());
      });
      await tab.getByRole('button', { name: words.begin }).click();
      await tab.getByRole('button', { name: words.try }).click();
      await tab.getByText(words.tried).waitFor();
      expect(service.faults).toEqual([]);
      expect(service.pushed).toHaveLength(1);
      await tab.getByText(words.all(words.noName)).waitFor();
      expect(await violations(tab)).toEqual([]);

      const session = await context.newCDPSession(tab);
      let registrationId = '';
      session.on('ServiceWorker.workerRegistrationUpdated', ({ registrations }) => {
        registrationId = registrations[0]?.registrationId ?? registrationId;
      });
      await session.send('ServiceWorker.enable');
      await expect.poll(() => registrationId, WITHIN).not.toBe('');
      await tab.evaluate(async () => (await navigator.serviceWorker.ready).active?.state);
      const { message } = service.pushed[0] ?? {};
      const deliver = () =>
        session.send('ServiceWorker.deliverPushMessage', {
          origin: new URL(page.address).origin,
          registrationId,
          data: JSON.stringify(message),
        });
      const notifications = () =>
        tab.evaluate(async () => {
          const registration = await navigator.serviceWorker.ready;
          const all = await registration.getNotifications();
          return all.map(({ title, body, lang, tag }) => ({ title, body, lang, tag }));
        });
      // what is handed over before the worker listens is lost; one that comes twice stands there once
      const shown = async () => {
        if ((await notifications()).length === 0) await deliver();
        return notifications();
      };
      await expect
        .poll(shown, WITHIN)
        .toEqual([{ title: 'alder-row', body: message?.sentence, lang: 'en', tag: 'test-call' }]);
      await tab.getByRole('button', { name: words.end }).click();
      await tab.getByRole('button', { name: words.begin }).waitFor();
      expect((await publisher.phones?.ask({ do: 'look', endpoint: '' }))?.phones).toEqual([]);
      expect(complaints).toEqual([]);
    });

    it.each([
      ['no-tls', () => Object.defineProperty(window, 'isSecureContext', { value: false })],
      ['no-push', () => Reflect.deleteProperty(window, 'PushManager')],
      [
        'home-screen',
        () => {
          Reflect.deleteProperty(window, 'PushManager');
          Object.defineProperty(navigator, 'userAgent', {
            value: 'Mozilla/5.0 (iPhone; CPU iPhone OS 18_0)',
          });
        },
      ],
    ] as const)('says what to do instead where it cannot be: %s', async (whyNot, init) => {
      const tab = await openPhone(init as () => void);
      await tab.getByText(words.not[whyNot]).waitFor();
      expect(await tab.getByRole('button', { name: words.begin }).count()).toBe(0);
    });

    it('says so where the browser forbids it, and where the push service is not reached', async () => {
      let tab = await openPhone(() => {
        Object.assign(Notification, { requestPermission: () => Promise.resolve('denied') });
      });
      await tab.getByRole('button', { name: words.begin }).click();
      await tab.getByText(words.not.denied).waitFor();
      await context.close();
      tab = await openPhone(() => {
        Object.assign(PushManager.prototype, {
          subscribe: () => Promise.reject(new DOMException('no push service', 'AbortError')),
        });
      });
      await tab.getByRole('button', { name: words.begin }).click();
      await tab.getByText(words.not['no-service']).waitFor();
    });
  });
});
