import { rmSync } from 'node:fs';
import { connectAsync, type MqttClient } from 'mqtt';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { Watering } from '../../shared/facts/watering.js';
import { realClock } from '../../src/cli/program/real-clock.js';
import { startPage } from '../../src/review/start-page.js';
import { StoreFeed } from '../../src/review/store-feed/store-feed.js';
import { openSqliteReview } from '../../src/store/sqlite/open-sqlite-review.js';
import { describeIf } from '../helpers/needs.js';
import { PHONE, sharedBrowser, type TestBrowser } from './browser.js';
import { openWholeHouse, type WholeHouse } from './whole-house.js';

const WAIT = { timeout: 15_000 };

describeIf('chromium', 'from the thumb through the whole house', () => {
  const heard: { topic: string; body: Record<string, unknown> }[] = [];
  const ofTopic = (part: string) => heard.filter(({ topic }) => topic.includes(part)).map(({ body }) => body);
  let browser: TestBrowser;
  let tab: Page;
  let mqtt: MqttClient;
  let house: WholeHouse;

  beforeAll(async () => {
    house = await openWholeHouse();
    mqtt = await connectAsync(house.broker);
    mqtt.on('message', (topic, payload) => {
      const text = payload.toString();
      if (text.startsWith('{')) heard.push({ topic, body: JSON.parse(text) as Record<string, unknown> });
    });
    await mqtt.subscribeAsync('drybell/alder-row/#', { qos: 1 });
    browser = await sharedBrowser();
    tab = await browser.newPage(PHONE);
    await tab.goto(house.page);
    await tab.locator('.on-bench', { hasText: 't1' }).waitFor(WAIT);
  });
  afterAll(async () => {
    await browser.close();
    await mqtt.endAsync(true);
    rmSync(house.folder, { recursive: true, force: true });
  });

  it('a tray is put down, watered by measure, and undone: each is answered, published and kept', async () => {
    await tab.getByRole('button', { name: 'New tray' }).click();
    await tab.getByRole('button', { name: /^minis/ }).click();
    await tab.getByRole('button', { name: 'Put it down' }).click();
    await tab.locator('.on-bench', { hasText: 't2' }).waitFor(WAIT);
    await expect
      .poll(() => ofTopic('/tray/t2'), WAIT)
      .toContainEqual(expect.objectContaining({ event: 'new', blockSideMm: 19, blockCount: 280 }));

    await tab.locator('.on-bench', { hasText: 't1' }).getByRole('button').click();
    await tab.locator('.measure').getByRole('button', { name: 'Tell' }).click();
    await tab.getByRole('status').getByRole('button', { name: 'Undo' }).waitFor(WAIT);
    await expect.poll(() => heard.filter(({ topic }) => topic.includes('watering')).length, WAIT).toBe(1);
    const [poured] = ofTopic('watering') as unknown as Watering[];
    expect(poured).toMatchObject({ tray: 't1', source: 'logged', ml: 500 });

    await tab.getByRole('status').getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => ofTopic('undone').length, WAIT).toBe(1);
  });

  it('"Why?" of a tray plays its day again without the pour that was told', async () => {
    await tab.locator('.on-bench', { hasText: 't1' }).getByRole('button').click();
    await tab.locator('.measure').getByRole('button', { name: 'Tell' }).click();
    await tab.getByRole('status').getByRole('button', { name: 'Undo' }).waitFor(WAIT);
    await tab.locator('.on-bench', { hasText: 't1' }).getByRole('button').click();
    await tab.getByRole('link', { name: 'Why? What t1 rests on' }).click();
    await tab.getByRole('heading', { level: 1, name: 'Why t1?' }).waitFor(WAIT);
    await tab.locator('.why-what', { hasText: /^Watered .*, 500 mL/ }).waitFor(WAIT);
    await tab.getByText('If the sun comes out').waitFor(WAIT);
    await tab.goto(tab.url().replace(/#.*/, '#now'));
    await tab.locator('.on-bench', { hasText: 't1' }).waitFor(WAIT);
  });

  it('the journal takes back what was told elsewhere, all that one word told at once, and says what has become of it', async () => {
    mqtt.publish('drybell/alder-row/command/walk-1', '{"do":"watered","trays":["t1","t2"]}', { qos: 1 });
    await tab.goto(tab.url().replace(/#.*/, '#journal'));
    await tab.locator('.line-folded summary').first().click(WAIT);
    const undo = tab.getByRole('button', { name: 'Undo all 2: 2 trays watered' });
    expect(await undo.count()).toBe(1);
    await undo.click();
    await expect.poll(() => ofTopic('undone').filter(({ ml }) => ml === undefined).length, WAIT).toBe(2);
    await tab.locator('.line-undone', { hasText: 't2 watered, filled' }).waitFor(WAIT);
    await tab.locator('.line-undone', { hasText: 't1 watered, filled' }).waitFor(WAIT);
    expect(await undo.count()).toBe(0);
    await tab.goto(tab.url().replace(/#.*/, '#now'));
    await tab.locator('.on-bench', { hasText: 't1' }).waitFor(WAIT);
  });

  it('a line on which a later one rests says so when it is to be undone', async () => {
    mqtt.publish(
      'drybell/alder-row/command/put-1',
      '{"do":"new-tray","tray":"t8","bench":"south","blockSideMm":38}',
      { qos: 1 },
    );
    mqtt.publish('drybell/alder-row/command/pour-1', '{"do":"watered","tray":"t8"}', { qos: 1 });
    await tab.goto(tab.url().replace(/#.*/, '#journal'));
    const came = tab.locator('.line', { hasText: 't8 came to the bench' }).first();
    await came.getByRole('button', { name: /^Undo/ }).click(WAIT);
    await came
      .getByText('"watered" of tray t8 came after it and rests on it. Undo that first.')
      .waitFor(WAIT);
    mqtt.publish('drybell/alder-row/command/back-1', '{"do":"undo","undo":"pour-1"}', { qos: 1 });
    mqtt.publish('drybell/alder-row/command/back-2', '{"do":"undo","undo":"put-1"}', { qos: 1 });
    await tab.locator('.line-undone', { hasText: 't8 came to the bench' }).waitFor(WAIT);
    await tab.goto(tab.url().replace(/#.*/, '#now'));
    await tab.locator('.on-bench', { hasText: 't1' }).waitFor(WAIT);
  });

  it('a test call told over MQTT is answered with one press, and the report says so', async () => {
    mqtt.publish('drybell/alder-row/command/test-1', '{"do":"test-call"}', { qos: 1 });
    await tab.getByRole('button', { name: 'It came to the MQTT app' }).click(WAIT);
    await expect
      .poll(() => ofTopic('/test-call/test-1'), WAIT)
      .toContainEqual(expect.objectContaining({ state: 'seen', way: 'mqtt' }));
    await expect.poll(() => tab.getByRole('heading', { name: 'Test call' }).count(), WAIT).toBe(0);
  });

  it('a refusal of the desk is shown in its own words', async () => {
    await tab.locator('.on-bench', { hasText: 't1' }).getByRole('button').click();
    await tab.getByRole('button', { name: 'Pot on' }).click();
    await tab
      .locator('.asked')
      .getByRole('button', { name: /^minis/ })
      .click();
    await tab.locator('.asked').getByRole('button', { name: 'Tell' }).click();
    const refused = tab.locator('.told-refused');
    await refused.waitFor(WAIT);
    expect(await refused.textContent()).toMatch(/38/);
  });

  it('the page on the store alone shows the same farm, and takes no commands', async () => {
    await house.close();
    const { config, folder } = house;
    const queries = openSqliteReview({ folder });
    const feed = await StoreFeed.open({
      config,
      queries,
      nowMs: realClock.nowMs,
      lookEveryMs: 60_000,
      complain: (cause) => {
        throw cause;
      },
    });
    const page = await startPage({ config, queries, live: feed, listenHost: '127.0.0.1', listenPort: 0 });
    await tab.goto(page.address);
    await tab.locator('.on-bench', { hasText: 't1' }).waitFor(WAIT);
    await tab.locator('.on-bench', { hasText: 't2' }).waitFor(WAIT);
    expect(await tab.getByRole('button', { name: 'New tray' }).isDisabled()).toBe(true);
    await tab.goto(`${page.address}#journal`);
    await tab.locator('.line-undone', { hasText: 't1 watered with 500 mL' }).waitFor(WAIT);
    const answer = await feed.command({ do: 'watered', tray: 't1' });
    expect(answer).toMatchObject({ ok: false, code: 'no-watchman' });
    feed.close();
    await page.close();
    await queries.close();
  });
});
