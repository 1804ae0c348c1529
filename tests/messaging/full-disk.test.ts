import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { MqttClient } from 'mqtt';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { unitsSchema } from '../../shared/config/notices.js';
import type { Command } from '../../shared/wire/command.js';
import type { Database } from '../../src/host/disk/sqlite.js';
import { type EmbeddedBroker, openEmbeddedBroker } from '../../src/messaging/embedded/embedded-broker.js';
import { KeptPhones } from '../../src/messaging/gateways/push/kept-phones.js';
import { PushService } from '../../src/messaging/gateways/push/push-service.js';
import type { DurableMessage } from '../../src/messaging/outbox/fact-messages.js';
import { openMessagingFile } from '../../src/messaging/outbox/messaging-file.js';
import { Outbox } from '../../src/messaging/outbox/outbox.js';
import { Telling } from '../../src/messaging/telling/telling.js';
import { backOffMs } from '../../src/messaging/wire/back-off.js';
import { createSpeech } from '../../src/watering/sentences/speech.js';
import { alarmFact, callFact, readingFact, START_MS } from './facts.js';
import { type Listener, listener } from './listener.js';
import { quietLog } from './quiet-log.js';

const LONG = 'x'.repeat(3000);
let folder: string;
let database: Database;
let ids = 0;

const fill = () => database.pragma('max_page_count = 1');
const makeRoom = () => database.pragma('max_page_count = 1073741823');
const message = (text: string, topic = 'drybell/alder-row/alarm/t1/dry'): DurableMessage => {
  ids += 1;
  return { id: `m${ids}`, kind: 'alarm', topic, payload: text, retain: true };
};
/** Messages until the disk is full: the free room of the last page goes first. */
function untilFull(outbox: Outbox): string[] {
  const texts: string[] = [];
  while (outbox.trouble === undefined) {
    texts.push(`${texts.length} ${LONG}`);
    outbox.add([message(texts.at(-1) ?? '')], START_MS);
  }
  return texts;
}
const texts = (outbox: Outbox) => outbox.next(0, 1000).map(({ payload }) => payload);

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'drybell-full-disk-'));
  ({ database } = openMessagingFile(join(folder, 'outbox.db'), START_MS));
});
afterEach(() => {
  database.close();
  rmSync(folder, { recursive: true, force: true });
});

describe('the outbox on a full disk', () => {
  it('holds messages in memory, in order, and says so', () => {
    const outbox = new Outbox(database);
    fill();
    const told = untilFull(outbox);
    expect(outbox.trouble).toMatch(/^the outbox cannot be written \(database or disk is full\); make room/);
    expect(texts(outbox)).toEqual(told);
    expect(outbox.waitingCount).toBe(told.length);
  });

  it('writes them as soon as there is room, without a new message, and they outlive the process', () => {
    const outbox = new Outbox(database);
    fill();
    const told = untilFull(outbox);
    makeRoom();
    outbox.add([], START_MS);
    expect(outbox.trouble).toBeUndefined();
    expect(texts(new Outbox(database))).toEqual(told);
  });

  it('knows what is retained although the disk has an older word', () => {
    const outbox = new Outbox(database);
    const topic = 'drybell/alder-row/alarm/t1/dry';
    outbox.add([message('old')], START_MS);
    fill();
    untilFull(outbox);
    outbox.add([message(`new ${LONG}`)], START_MS);
    const waiting = outbox.next(0, 1000);
    outbox.delivered(waiting.map(({ seq }) => seq));
    expect(outbox.retainedAt(topic)).toBe(`new ${LONG}`);
    expect(outbox.retained().get(topic)).toBe(`new ${LONG}`);
    outbox.add([message('', topic)], START_MS);
    expect([outbox.retainedAt(topic), outbox.retained().has(topic)]).toEqual([undefined, false]);
    makeRoom();
    outbox.add([message('last')], START_MS);
    expect(new Outbox(database).retainedAt(topic)).toBe('last');
  });

  it('sends a message as it was rewritten, not as the disk still has it', () => {
    const outbox = new Outbox(database);
    outbox.add([message('will not last')], START_MS);
    fill();
    untilFull(outbox);
    outbox.revise(new Map([[outbox.next(0, 1)[0]?.seq ?? 0, `over ${LONG}`]]));
    expect(texts(outbox)[0]).toBe(`over ${LONG}`);
    makeRoom();
    outbox.add([], START_MS);
    expect(texts(new Outbox(database))[0]).toBe(`over ${LONG}`);
  });

  it('gives what was delivered back as room', () => {
    const outbox = new Outbox(database);
    for (let i = 0; i < 20; i++) outbox.add([message(`${i} ${LONG}`)], START_MS);
    fill();
    untilFull(outbox);
    outbox.delivered(outbox.next(0, 20).map(({ seq }) => seq));
    outbox.add([message('after')], START_MS);
    expect(outbox.trouble).toBeUndefined();
    expect(texts(new Outbox(database)).at(-1)).toBe('after');
  });
});

describe('telling on a full disk', () => {
  let broker: EmbeddedBroker;
  let telling: Telling;
  let phone: Listener;
  let run: Command[];

  beforeEach(async () => {
    broker = await openEmbeddedBroker({ farm: 'alder-row', host: '127.0.0.1', port: 0, log: quietLog });
    run = [];
    const kept = await KeptPhones.open(undefined);
    telling = new Telling({
      farm: 'alder-row',
      speech: createSpeech({ timeZone: 'Europe/Berlin', units: unitsSchema.parse({}) }),
      address: broker.address,
      database,
      open: () =>
        new MqttClient(() => broker.connectInside(), { clientId: 'drybell-alder-row', reconnectPeriod: 0 }),
      delays: () => backOffMs(() => 0),
      nowMs: () => START_MS,
      wallNowMs: () => START_MS,
      newId: () => `t${++ids}`,
      log: quietLog,
      firstStatus: { online: true },
      webhooks: [],
      push: {
        kept,
        sender: { keys: kept.keys, contact: '', service: new PushService({ privateHosts: [] }) },
        language: 'en',
      },
      sayInside: broker.say,
    });
    await telling.connected(5_000);
    phone = await listener(broker.address, ['drybell/#']);
    await phone.next(({ topic }) => topic.endsWith('/status'));
    telling.onCommand((command, ref) => {
      run.push(command);
      const answer = { ref, at: '2026-04-18T05:00:00Z', ok: true, code: 'done', sentence: LONG };
      void telling.tell([{ kind: 'answer', answer }]);
    });
    fill();
    const filler = database.prepare('INSERT INTO command VALUES (?, ?, 0, ?, NULL)');
    expect(() => {
      for (let i = 0; ; i++) filler.run(`full-${i}`, 'x'.repeat(100), START_MS);
    }).toThrow('full');
  });
  afterEach(async () => {
    await phone.close();
    await telling.close();
    await broker.close();
  });

  it('calls go out all the same, and health says why it is not well', async () => {
    const told = telling.tell([alarmFact('t1', 'unacknowledged'), callFact(['t1'], `Tray t1. ${LONG}`)]);
    expect(telling.health(), 'before anything has gone out').toMatchObject({
      ok: false,
      reason: 'not-kept',
      own: ['asItIs', expect.stringContaining('make room')],
    });
    await told;
    await phone.next(({ topic, text }) => topic.endsWith('/say') && text.startsWith('Tray t1.'));
  });

  it('a command is done and answered once, though neither can be kept', async () => {
    const command = JSON.stringify({ do: 'note', text: 'y'.repeat(1500) });
    phone.send('drybell/alder-row/command/c1', command);
    await phone.next(({ topic }) => topic.endsWith('/reply/c1'));
    phone.send('drybell/alder-row/command/c1', command);
    await vi.waitUntil(() => phone.heard.filter(({ topic }) => topic.endsWith('/reply/c1')).length === 2);
    expect(run).toHaveLength(1);
    makeRoom();
    phone.send('drybell/alder-row/command/c2', '{"do":"back"}');
    await phone.next(({ topic }) => topic.endsWith('/reply/c2'));
    const kept = database
      .prepare('SELECT ref FROM command WHERE answer IS NOT NULL ORDER BY ref')
      .pluck()
      .all();
    expect(kept).toEqual(['c1', 'c2']);
  });

  it('is well again with the next reading after there is room', async () => {
    await telling.tell([{ kind: 'ask', at: '2026-04-18T05:00:00Z', trays: ['t1'], sentence: LONG }]);
    expect(telling.health().ok).toBe(false);
    makeRoom();
    await telling.tell([readingFact('moist-t1', 1.5)]);
    expect(telling.health()).toMatchObject({ ok: true });
  });
});
