import type { AddressInfo } from 'node:net';
import { createServer, type Server } from 'node:net';
import { Aedes } from 'aedes';
import { afterEach, expect, it, vi } from 'vitest';
import { messagingSchema } from '../../shared/config/messaging.js';
import { createPublisher } from '../../src/messaging/publisher.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import type { Publisher } from '../../src/monitor/ports/ports.js';
import { type Listener, listener } from './listener.js';
import { rememberingLog } from './quiet-log.js';

const NOW_MS = Date.parse('2026-04-18T06:00:00Z');
const closing: (() => Promise<unknown>)[] = [];

afterEach(async () => {
  for (const close of closing.splice(0).reverse()) await close();
});

/** A broker that ends the connection on what its rules forbid, as MQTT 3.1.1 §3.3.5 lets it. */
async function strictBroker(forbids: (payload: string) => boolean) {
  const broker = await Aedes.createBroker({
    authorizePublish: (_client, { payload }, done) =>
      done(forbids(payload.toString()) ? new Error('not allowed') : null),
  });
  const server: Server = createServer((socket) => void broker.handle(socket));
  await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
  closing.push(async () => {
    await new Promise<void>((closed) => broker.close(() => closed()));
    await new Promise((closed) => server.close(closed));
  });
  return `mqtt://127.0.0.1:${(server.address() as AddressInfo).port}`;
}

async function publisherAt(url: string) {
  const { log, events } = rememberingLog();
  const publisher = await createPublisher({
    farm: 'alder-row',
    config: messagingSchema.parse({ url }),
    drive: 'live',
    timeZone: 'Europe/Berlin',
    nowMs: () => NOW_MS,
    wallNowMs: () => NOW_MS,
    random: () => 0,
    log,
  });
  closing.push(() => publisher.close());
  return { publisher, events };
}

const note = (text: string): Fact => ({ kind: 'note', at: new Date(NOW_MS).toISOString(), by: 'jo', text });

async function heardTexts(phone: Listener, publisher: Publisher, texts: readonly string[]) {
  await publisher.tell(texts.map(note));
  return vi.waitUntil(
    () => {
      const heard = phone.heard.map(({ text }) => text);
      return texts.slice(1).every((text) => heard.some((one) => one.includes(text))) ? heard : undefined;
    },
    { timeout: 60_000, interval: 50 },
  );
}

it('a message on which the broker hangs up does not hold back those behind it, and is told of', async () => {
  const url = await strictBroker((payload) => payload.includes('forbidden'));
  const phone = await listener(url, ['drybell/#']);
  closing.push(() => phone.close());
  const { publisher, events } = await publisherAt(url);
  const heard = await heardTexts(phone, publisher, ['forbidden words', 'first after it', 'second after it']);
  expect(heard.join()).not.toContain('forbidden');
  expect(publisher.health()).toMatchObject({
    ok: false,
    own: ['asItIs', expect.stringContaining('hangs up on')],
  });
  expect(events.filter(({ event }) => event === 'broker-hangs-up')).toHaveLength(1);
}, 90_000);

it('it is said after all when the broker takes it', async () => {
  let refusedCount = 0;
  const url = await strictBroker((payload) => payload.includes('forbidden') && ++refusedCount <= 3);
  const phone = await listener(url, ['drybell/#']);
  closing.push(() => phone.close());
  const { publisher, events } = await publisherAt(url);
  await publisher.tell([note('forbidden words')]);
  await phone.next(({ text }) => text.includes('forbidden words'));
  await vi.waitUntil(() => publisher.health().ok, { timeout: 60_000 });
  expect(events.map(({ event }) => event)).toContain('broker-hangs-up');
}, 90_000);
