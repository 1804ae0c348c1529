import { rmSync } from 'node:fs';
import { connectAsync } from 'mqtt';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import { describeIf } from '../helpers/needs.js';
import { createMosquitto, LOGIN, type Mosquitto } from '../messaging/mosquitto.js';
import { PHONE, sharedBrowser, type TestBrowser } from './browser.js';
import { violations } from './violations.js';
import { openWholeHouse, type WholeHouse } from './whole-house.js';

const HOUR_MS = 3_600_000;
const SHOWN = { timeout: 30_000 };
/** A cover is called for from the germination on: the one call that waits for nothing. */
const COVERS_OFF_AT_ONCE = { coverDaysAfterGermination: 0 };

describeIf('mosquitto', 'two monitors at one broker', () => {
  describeIf('chromium', 'all houses of a farm on one page', allHouses);
});

function allHouses(): void {
  let broker: Mosquitto;
  let browser: TestBrowser;
  let tab: Page;
  let north: WholeHouse;
  let south: WholeHouse;
  const folders: string[] = [];
  const opened: (() => Promise<void>)[] = [];
  const open = async (farm: string, pageOptions: object = {}): Promise<WholeHouse> => {
    const messaging = { url: `mqtt://127.0.0.1:${broker.port}`, ...LOGIN };
    const house = await openWholeHouse(pageOptions, {
      farm,
      messaging,
      cadenceS: 1,
      notices: COVERS_OFF_AT_ONCE,
    });
    folders.push(house.folder);
    return house;
  };
  const tell = async (house: WholeHouse, command: object): Promise<void> => {
    const response = await fetch(new URL('/api/command', house.page), {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(command),
    });
    expect(await response.json()).toMatchObject({ ok: true });
  };
  const card = (farm: string) =>
    tab.locator('.house-card', { has: tab.getByRole('heading', { name: farm, exact: true }) });

  beforeAll(async () => {
    broker = await createMosquitto();
    // A third one whose board has hung for five hours: the broker has its last words, and no last will was told.
    const client = await connectAsync(`mqtt://127.0.0.1:${broker.port}`, {
      username: LOGIN.user,
      password: LOGIN.password,
    });
    const at = toInstant(Date.now() - 5 * HOUR_MS);
    const never = { p10: null, p50: null, p90: null };
    const said = {
      status: { online: true, at },
      'alarm/w1/dry': {
        id: 'a1',
        at,
        kind: 'dry',
        state: 'unacknowledged',
        tray: 'w1',
        sentence: 'w1 is dry.',
      },
      'forecast/w1': {
        at,
        tray: 'w1',
        waterContentM3PerM3: 0.5,
        hoursToRefill: never,
        hoursToRefillDriestTenth: never,
      },
    };
    for (const [topic, payload] of Object.entries(said))
      await client.publishAsync(`drybell/west-house/${topic}`, JSON.stringify(payload), {
        qos: 1,
        retain: true,
      });
    await client.endAsync();
    north = await open('north-house');
    opened.push(() => north.close());
    south = await open('south-house', {
      houses: [
        { farm: 'south-house' },
        { farm: 'north-house', page: north.page },
        { farm: 'west-house' },
        { farm: 'hill-house' },
      ],
    });
    opened.push(() => south.close());
    browser = await sharedBrowser();
    tab = await browser.newPage({ ...PHONE, reducedMotion: 'reduce' });
    await tab.goto(south.page);
  }, 60_000);
  afterAll(async () => {
    await browser?.close();
    for (const close of opened.reverse()) await close();
    await broker?.close();
    for (const folder of folders) rmSync(folder, { recursive: true, force: true });
  });

  it('one press on the name of the house leads there; each house says how it stands', async () => {
    await tab.getByRole('link', { name: 'south-house of 4 houses' }).tap();
    await tab.getByRole('heading', { level: 1, name: 'All houses' }).waitFor();
    await card('north-house').getByText('watched', { exact: true }).waitFor(SHOWN);
    await card('south-house').getByText('watched', { exact: true }).waitFor(SHOWN);
    await card('south-house').getByText('1 tray', { exact: true }).waitFor(SHOWN);
    await card('south-house').getByText('t1 dries first, about').waitFor(SHOWN);
    await card('west-house').getByText('silent', { exact: true }).waitFor(SHOWN);
    await card('west-house').getByText('last word 5 h ago').waitFor();
    await card('west-house').getByText('w1 is dry.').waitFor();
    await card('hill-house').getByText('never heard').waitFor();
    await tab.getByText('One house calls, 2 are not watched.').waitFor();
    expect(await tab.getByRole('heading', { level: 2 }).allTextContents()).toEqual([
      'west-house',
      'hill-house',
      'south-house',
      'north-house',
    ]);
    expect(await violations(tab)).toEqual([]);
  });

  it('what is told in one house stands on the page of the other', async () => {
    await tell(north, { do: 'looked', tray: 't1', level: 1 });
    await card('north-house').getByText('t1 is dry now').waitFor(SHOWN);
    await tell(north, { do: 'watered', tray: 't1' });
    await card('north-house').getByText('t1 dries first, about').waitFor(SHOWN);
  });

  it('a house that calls is among those that do, first, with what it calls for, until that is done', async () => {
    // a cover over what has germinated is called for at once; its own watchman raises it
    await tell(north, { do: 'cover', tray: 't1', cover: 'film' });
    await tell(north, { do: 'germinated', tray: 't1' });
    await card('north-house').locator('.house-call-list', { hasText: 't1' }).waitFor(SHOWN);
    await tab.getByText('2 houses call, 2 are not watched.').waitFor(SHOWN);
    expect((await tab.getByRole('heading', { level: 2 }).allTextContents()).slice(0, 2).sort()).toEqual([
      'north-house',
      'west-house',
    ]);
    await tell(north, { do: 'cover', tray: 't1', cover: 'none' });
    await card('north-house')
      .locator('.house-call-list')
      .waitFor({ state: 'detached', ...SHOWN });
    await tab.getByText('One house calls, 2 are not watched.').waitFor(SHOWN);
  });

  it('the link goes to the page of the other house itself', async () => {
    await card('north-house').getByRole('link', { name: 'Open north-house' }).tap();
    await tab.waitForURL(`${north.page}**`);
    await tab.locator('.farm-name', { hasText: 'north-house' }).waitFor();
    await tab.goto(`${south.page}#houses`);
  });

  it('a house whose monitor stops is not watched, and a broker that goes away is said', async () => {
    await north.close();
    opened.shift();
    await card('north-house').getByText('not watched', { exact: true }).waitFor(SHOWN);
    await card('north-house').getByText('Its watchman has stopped.', { exact: false }).waitFor();
    await broker.stop();
    await tab.getByText('No house is heard now', { exact: false }).waitFor(SHOWN);
    await broker.start();
    await tab.getByText('are not watched.', { exact: false }).waitFor(SHOWN);
  });
}
