import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import type { Command } from '../../shared/wire/command.js';
import { type RunningPage, startPage } from '../../src/review/start-page.js';
import { describeIf } from '../helpers/needs.js';
import { DESKTOP, PHONE, sharedBrowser, type TestBrowser } from './browser.js';
import { createDemoFarm, type DemoFarm } from './demo-farm.js';
import { SEASON_END_MS } from './demo-season.js';
import { pageOf } from './page-of.js';
import { violations } from './violations.js';

const LONGEST_WAIT_MS = 8_000;
const WITHIN = { timeout: LONGEST_WAIT_MS };
/** A few days are enough to act on. */
const FROM_MS = Date.parse('2026-05-11T00:00:00Z');

describeIf('chromium', 'what is told on the page', () => {
  let browser: TestBrowser;
  let farm: DemoFarm;
  let page: RunningPage;
  let context: BrowserContext;
  let tab: Page;
  let complaints: string[];

  beforeAll(async () => {
    browser = await sharedBrowser();
  });
  afterAll(() => browser.close());

  const openAt = async (size: typeof PHONE | typeof DESKTOP, view = ''): Promise<void> => {
    context = await browser.newContext({ ...size, reducedMotion: 'reduce', bypassCSP: false });
    // before the test's own time is over, so that a failure names what was waited for
    context.setDefaultTimeout(LONGEST_WAIT_MS);
    tab = await context.newPage();
    tab.on('pageerror', (error) => complaints.push(error.message));
    tab.on('console', (message) => {
      if (message.type() === 'error' && !message.text().includes('net::ERR')) complaints.push(message.text());
    });
    tab.on('request', (request) => {
      if (!request.url().startsWith(page.address)) complaints.push(`asked ${request.url()}`);
    });
    await tab.goto(`${page.address}${view}`);
    await tab.locator('h1').first().waitFor();
  };
  const lastCommand = (): Command | undefined => farm.commands.at(-1);
  /** How many trays the notice lists. */
  const listed = (): number => farm.feed.present().notice?.due.length ?? 0;
  /** What the desk was told, when it has been told it. */
  const told = (part: object) =>
    expect.poll(() => lastCommand(), { timeout: 10_000 }).toMatchObject(part as Record<string, unknown>);

  beforeEach(async () => {
    complaints = [];
    farm = await createDemoFarm(FROM_MS);
    page = await pageOf(farm);
  });
  afterEach(async () => {
    await context.close();
    await page.close();
    expect(complaints).toEqual([]);
  });

  describe('told with one thumb', () => {
    beforeEach(() => openAt(PHONE));

    /** The headline when so many trays fewer are due than the notice lists. */
    const dueLess = (count: number): string => `Water ${listed() - count} trays`;

    it('watered: one press, the tray leaves the list, and undo names that command', async () => {
      await tab.getByRole('button', { name: 't3 watered' }).click();
      await told({ do: 'watered', tray: 't3' });
      const { ref } = lastCommand() ?? {};
      await tab.getByRole('heading', { level: 1, name: dueLess(1) }).waitFor();
      await tab.getByRole('status').getByRole('button', { name: 'Undo' }).click();
      await told({ do: 'undo', undo: ref });
    });

    it('a bouncing thumb waters one tray', async () => {
      await tab.getByRole('button', { name: 't3 watered' }).dblclick();
      await told({ do: 'watered', tray: 't3' });
      await tab.getByRole('heading', { level: 1, name: dueLess(1) }).waitFor();
      expect(farm.commands).toHaveLength(1);
    });

    it('round done except two', async () => {
      await tab.getByRole('button', { name: 'Round done' }).click();
      for (const id of ['t9', 't4']) {
        const choice = tab.locator('.round-tray', { hasText: new RegExp(`^${id}$`) });
        // At once after "Round done" a press at its place is still that thumb's: people press again.
        await expect
          .poll(async () => {
            if (await choice.locator('input').isChecked()) await choice.click();
            return choice.locator('input').isChecked();
          }, WITHIN)
          .toBe(false);
      }
      await tab.getByRole('button', { name: `${listed() - 2} watered, 2 not` }).click();
      await told({ do: 'round-done', except: expect.arrayContaining(['t9', 't4']) });
      await tab.getByRole('heading', { level: 1, name: 'Water 2 trays' }).waitFor();
    });

    it('a call is seen, and another put off until the round', async () => {
      await tab.getByRole('button', { name: /^Seen: Needs water: t2/ }).click();
      await told({ do: 'acknowledge', kind: 'refill', of: 't2' });
      await tab.getByText('seen', { exact: true }).waitFor();
      expect(await tab.getByRole('status').getByRole('button', { name: 'Undo' }).count()).toBe(0);
      await tab.locator('.call', { hasText: 'moist-t5' }).getByRole('button', { name: 'Later' }).click();
      await tab.getByRole('button', { name: 'at the round, 18:00' }).click();
      await told({ do: 'shelve', kind: 'probe', of: 'moist-t5', until: '2026-05-15T16:00:00.000Z' });
      await tab.getByRole('button', { name: 'Remind now' }).waitFor();
      const { ref } = lastCommand() ?? {};
      await tab.getByRole('status').getByRole('button', { name: 'Undo' }).click();
      await told({ do: 'undo', undo: ref });
    });

    it("a tray's life, each press a command", async () => {
      const sheet = tab.getByRole('dialog');
      /** The list may move under the thumb when what was told last arrives, and take the press away: people press again. */
      const open = async (): Promise<void> => {
        for (let press = 0; press < 10; press++) {
          await tab.getByRole('button', { name: 'More about t4' }).click();
          const opened = sheet.waitFor({ timeout: 2_000 });
          if (await opened.then(() => true).catch(() => false)) return;
        }
        throw new Error('pressed "More about t4" ten times, and nothing opened');
      };
      const press = async (name: string, command: object): Promise<void> => {
        await sheet.getByRole('button', { name, exact: true }).click();
        await told({ tray: 't4', ...command });
        await expect.poll(() => sheet.count()).toBe(0);
      };
      await open();
      await press('drying', { do: 'looked', level: 3 });
      await open();
      await press('Ready for water', { do: 'ready-for-water' });
      await open();
      await press('Film', { do: 'cover', cover: 'film' });
      await open();
      await sheet.getByRole('button', { name: 'Weighed' }).click();
      await sheet.getByLabel('g, tray and blocks').fill('2150');
      await sheet.locator('.asked').getByRole('button', { name: 'Tell' }).click();
      await told({ do: 'weighed', tray: 't4', grams: 2150 });
      await open();
      await sheet.getByRole('button', { name: 'Move' }).click();
      await press('To bench north', { do: 'move', bench: 'north' });
      await open();
      await sheet.getByRole('button', { name: 'Pot on' }).click();
      await sheet.locator('.asked').getByRole('button', { name: 'Tell' }).click();
      await told({ do: 'pot-on', tray: 't4', toTray: 't14', blockSideMm: 51, blockCount: 48 });
      await open();
      await sheet.getByRole('button', { name: 'Put a probe in' }).click();
      await press('moist-t1', { do: 'attach', probe: 'moist-t1' });
      await open();
      await sheet.getByRole('button', { name: '+50 mL' }).click();
      await sheet.locator('.measure').getByRole('button', { name: 'Tell' }).click();
      await told({ do: 'watered', tray: 't4', ml: 550 });
      await tab.getByRole('button', { name: /^t4 / }).last().click();
      await sheet.getByRole('button', { name: 'End', exact: true }).click();
      await press('End this tray', { do: 'end' });
    });

    it('a new tray from a template, with the next name', async () => {
      await tab.getByRole('button', { name: 'New tray' }).click();
      await tab.getByRole('button', { name: /^mediums/ }).click();
      await tab.getByLabel('Crop').fill('celeriac');
      await tab.getByRole('button', { name: 'north', exact: true }).click();
      await tab.getByRole('button', { name: 'Put it down' }).click();
      await told({
        do: 'new-tray',
        tray: 't14',
        bench: 'north',
        blockSideMm: 38,
        blockCount: 72,
        crop: 'celeriac',
      });
      await tab.locator('.on-bench', { hasText: 't14' }).waitFor();
    });

    it('away until the next morning, with a name', async () => {
      await tab.getByRole('button', { name: 'This phone' }).click();
      await tab.getByLabel(/^Your name/).fill('Anna');
      await tab.getByRole('button', { name: 'Away until tomorrow 07:00' }).click();
      await told({ do: 'away', until: '2026-05-16T05:00:00Z', by: 'Anna' });
    });

    it('a test call shows while it waits, and is answered by the way it came', async () => {
      expect(await tab.getByRole('heading', { name: 'Test call' }).count()).toBe(0);
      const at = toInstant(SEASON_END_MS);
      await farm.happen({ kind: 'test-call', at, test: 'test-1', ways: ['mqtt', 'sms'], bareSeen: true });
      const bySms = tab.getByRole('button', { name: 'It came by sms' });
      await bySms.waitFor();
      expect((await bySms.boundingBox())?.height).toBeGreaterThanOrEqual(60);
      await bySms.click();
      await told({ do: 'test-seen', way: 'sms' });
      await expect.poll(() => bySms.count(), WITHIN).toBe(0);
      const toApp = tab.getByRole('button', { name: 'It came to the MQTT app' });
      await expect
        .poll(async () => {
          if ((await toApp.count()) > 0 && (await toApp.isEnabled())) await toApp.click();
          return tab.getByRole('heading', { name: 'Test call' }).count();
        }, WITHIN)
        .toBe(0);
      expect(farm.commands.map((command) => 'way' in command && command.way)).toEqual(['sms', 'mqtt']);
    });

    it('a note with markup is kept as it was written', async () => {
      await tab.goto(`${page.address}#journal`);
      await tab.getByText('Write a note').click();
      await tab.getByLabel('Note', { exact: true }).fill('aphids on <b>t4</b> & t5');
      await tab.getByRole('button', { name: 'Keep it' }).click();
      await told({ do: 'note', text: 'aphids on <b>t4</b> & t5' });
      await tab.locator('.line-whole', { hasText: 'aphids on <b>t4</b> & t5' }).waitFor();
    });

    it('a refusal says why and stays until it is closed', async () => {
      await farm.feed.command({ do: 'end', tray: 't12' });
      const refused = await tab.evaluate(async () => {
        const body = JSON.stringify({ do: 'watered', tray: 't12' });
        const headers = { 'Content-Type': 'application/json' };
        return (await fetch('/api/command', { method: 'POST', headers, body })).status;
      });
      expect(refused).toBe(409);
      complaints.length = 0;
    });
  });

  describe('what happens shows by itself', () => {
    it('a call that comes while the page is open', async () => {
      await openAt(PHONE);
      await farm.happen({
        kind: 'alarm',
        transition: {
          at: toInstant(SEASON_END_MS + 60_000),
          kind: 'dry',
          state: 'unacknowledged',
          tray: 't9',
          sentence: 't9 on bench north is dry.',
        },
      });
      await tab.getByText('t9 on bench north is dry.').waitFor();
    });

    it('several unseen calls are seen with one press', async () => {
      await openAt(PHONE);
      await farm.happen({
        kind: 'alarm',
        transition: { at: toInstant(SEASON_END_MS), kind: 'wet', state: 'unacknowledged', tray: 't6' },
      });
      await tab.getByRole('button', { name: 'All 2 seen' }).click();
      await told({ do: 'acknowledge' });
      expect(lastCommand()).not.toHaveProperty('of');
    });

    it('a line in the journal, once', async () => {
      await openAt(DESKTOP, '#journal');
      await tab.locator('.line').first().waitFor();
      await farm.happen({ kind: 'note', at: toInstant(SEASON_END_MS), text: 'seen from the field' });
      await tab.getByText('seen from the field').waitFor();
      expect(await tab.getByText('seen from the field').count()).toBe(1);
    });
  });

  describe('without contact', () => {
    it('keeps what it last knew with its age, keeps what is told, tells it with its time when the house is back, and is right again', async () => {
      await openAt(PHONE);
      const { port } = page;
      await page.close();
      await tab.getByText(/^No contact since/).waitFor();
      await tab.getByRole('heading', { level: 1, name: `Water ${listed()} trays` }).waitFor();
      await tab.getByRole('button', { name: 't3 watered' }).click();
      await tab.getByText('One thing waits to be told.').waitFor();
      await tab.locator('.due', { hasText: 't3' }).first().getByText('waits to be told').waitFor();

      await farm.feed.command({ do: 'watered', tray: 't10' });
      page = await startPage({
        config: farm.config,
        queries: farm.store,
        live: farm.feed,
        listenHost: '127.0.0.1',
        listenPort: port,
      });
      await tab
        .getByRole('heading', { level: 1, name: `Water ${listed() - 2} trays` })
        .waitFor({ timeout: 20_000 });
      await expect.poll(() => tab.getByText(/^No contact since/).count()).toBe(0);
      expect(farm.commands).toHaveLength(2);
      await told({ do: 'watered', tray: 't3', at: expect.stringMatching(/^2026-05-15T15:1/) });
    });
  });

  describe('by keyboard', () => {
    it('the first stop leads past the top, and a sheet gives the focus back', async () => {
      await openAt(DESKTOP);
      await tab.keyboard.press('Tab');
      expect(await tab.evaluate(() => document.activeElement?.textContent)).toBe('Skip the top of the page');
      await tab.keyboard.press('Enter');
      expect(await tab.evaluate(() => document.activeElement?.id)).toBe('content');
      const opener = tab.getByRole('button', { name: 'More about t4' });
      await opener.focus();
      await tab.keyboard.press('Enter');
      await tab.getByRole('dialog').waitFor();
      expect(await violations(tab)).toEqual([]);
      await tab.keyboard.press('Escape');
      await expect.poll(() => tab.getByRole('dialog').count()).toBe(0);
      expect(await opener.evaluate((element) => element === document.activeElement)).toBe(true);
    });
  });
});
