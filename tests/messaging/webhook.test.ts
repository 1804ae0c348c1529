import { createHmac } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { messagingSchema, webhookKey } from '../../shared/config/messaging.js';
import { webhookHeaders } from '../../src/messaging/gateways/webhooks/webhook-signature.js';
import { createPublisher } from '../../src/messaging/publisher.js';
import type { MessagingLog } from '../../src/messaging/wire/messaging-log.js';
import type { Publisher } from '../../src/monitor/ports/ports.js';
import { inWords } from '../helpers/in-words.js';
import {
  alarmFact,
  callFact,
  desksCall,
  forecastFact,
  readingFact,
  roundFact,
  roundFactOf,
  START_MS,
  wateringFact,
} from './facts.js';
import { listener } from './listener.js';
import { quietLog, rememberingLog } from './quiet-log.js';

describe('webhookHeaders()', () => {
  it('signs the example of the Standard Webhooks reference libraries', () => {
    // standard-webhooks/standard-webhooks, test of sign() in the reference libraries.
    const key = webhookKey('whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw');
    const headers = webhookHeaders(
      key ?? new Uint8Array(),
      'msg_p5jXN8AQM9LWM0D4loKWxJek',
      1_614_265_330,
      '{"test": 2432232314}',
    );
    expect(headers['webhook-signature']).toBe('v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=');
  });
});

const secretBytes = Buffer.from('twenty-four bytes of it!');
const secret = `whsec_${secretBytes.toString('base64')}`;

interface Post {
  readonly id: string;
  readonly type: string;
  readonly data: {
    readonly sentence?: string;
    readonly state?: string;
    readonly tray?: string;
    readonly trays?: string[];
  };
  readonly signed: boolean;
}

describe('posts to a webhook', () => {
  let folder: string;
  let gateway: Server;
  let posts: Post[];
  let answers: number[];
  let refusedCount: number;
  /** What the gateway can't take, whenever it comes. */
  let poison: RegExp;
  let poisonStatus: number;
  let wallMs: number;
  let publisher: Publisher;

  const open = (log: MessagingLog = quietLog) =>
    createPublisher({
      farm: 'alder-row',
      config: messagingSchema.parse({
        listenPort: 0,
        webhooks: [
          { id: 'sms', url: `http://127.0.0.1:${(gateway.address() as AddressInfo).port}/hook`, secret },
        ],
      }),
      drive: 'live',
      timeZone: 'Europe/Berlin',
      dataFolder: folder,
      nowMs: () => wallMs,
      wallNowMs: () => wallMs,
      random: () => 0,
      log,
    });
  const away = () =>
    vi.waitUntil(() => publisher.health().reason === 'webhook-away', { interval: 5, timeout: 10_000 });
  const posted = (count: number) =>
    vi.waitUntil(() => posts.length >= count, { interval: 5, timeout: 15_000 });

  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), 'drybell-webhook-'));
    posts = [];
    answers = [];
    refusedCount = 0;
    poison = /nothing is poison/;
    poisonStatus = 500;
    wallMs = START_MS;
    gateway = createServer((request, response) => {
      const chunks: Buffer[] = [];
      request.on('data', (chunk: Buffer) => chunks.push(chunk));
      request.on('end', () => {
        const body = Buffer.concat(chunks).toString();
        const status = answers.shift() ?? (poison.test(body) ? poisonStatus : 204);
        const id = String(request.headers['webhook-id']);
        const wanted = createHmac('sha256', secretBytes)
          .update(`${id}.${request.headers['webhook-timestamp']}.${body}`)
          .digest('base64');
        const signed = request.headers['webhook-signature'] === `v1,${wanted}`;
        if (status >= 300) refusedCount += 1;
        else posts.push({ id, signed, ...(JSON.parse(body) as Omit<Post, 'id' | 'signed'>) });
        response.writeHead(status).end();
      });
    });
    await new Promise<void>((resolve) => gateway.listen(0, '127.0.0.1', resolve));
    publisher = await open();
  });

  afterEach(async () => {
    await publisher.close();
    gateway.closeAllConnections();
    await new Promise((resolve) => gateway.close(resolve));
    rmSync(folder, { recursive: true, force: true });
  });

  it('carries alarms, calls and notices in order, signed; readings and forecasts stay on MQTT', async () => {
    await publisher.tell([readingFact(), forecastFact('t1'), alarmFact('t1', 'unacknowledged')]);
    await publisher.tell([callFact(['t1'], 'Tray t1 will not last.'), roundFact('One tray.')]);
    await posted(3);
    expect(posts.map(({ type, signed }) => [type, signed])).toEqual([
      ['alarm', true],
      ['call', true],
      ['round', true],
    ]);
    expect(posts[1]?.data).toMatchObject({ trays: ['t1'], sentence: 'Tray t1 will not last.' });
  });

  it('tries again when the gateway is not well, with the same id, and says when a sentence is late', async () => {
    answers = [500, 503];
    await publisher.tell([callFact(['t1'], 'Tray t1 will not last.')]);
    await away();
    expect(inWords(publisher.health().own)).toContain('the webhook "sms" does not take posts: it answers 50');
    wallMs += 3_600_000;
    await posted(1);
    expect(posts[0]?.data.sentence).toBe(
      'From Sat 07:00, held up at the webhook "sms": Tray t1 will not last.',
    );
    await vi.waitUntil(() => publisher.health().ok, { interval: 5 });
  });

  it('does not post a call that became untrue while the gateway was away', async () => {
    answers = [503];
    await publisher.tell([callFact(['t1'], 'Tray t1 will not last.')]);
    await away();
    await publisher.tell([alarmFact('t1', 'normal')]);
    await posted(1);
    expect(posts.map(({ type }) => type)).toEqual(['alarm']);
  });

  it('says a call again about the trays that are left', async () => {
    answers = [503];
    await publisher.tell([desksCall(['t1', 't2'])]);
    await away();
    await publisher.tell([alarmFact('t1', 'normal')]);
    await posted(2);
    expect(posts[0]?.data).toMatchObject({ trays: ['t2'] });
    expect(posts[0]?.data.sentence).toMatch(/^Bench south: t2 may not last until the 18:00 round\./);
    expect(posts[0]?.data).not.toHaveProperty('said');
  });

  it('back after three days it gets what is true now, in the order of telling, and nothing of the rounds that are over', async () => {
    poison = /./;
    poisonStatus = 503;
    const day = 86_400_000;
    await publisher.tell([
      roundFactOf(['t1', 't2']),
      alarmFact('t1', 'unacknowledged'),
      desksCall(['t1', 't2']),
    ]);
    await away();
    await publisher.tell([wateringFact('t1'), alarmFact('t1', 'normal')]);
    for (const n of [1, 2, 3]) {
      wallMs = START_MS + n * day;
      await publisher.tell([roundFactOf(['t2', 't3', 't4'], wallMs)]);
    }
    await publisher.tell([wateringFact('t3', wallMs + 60_000)]);
    // What is on its way now was judged before the last was told.
    const refusedSoFar = refusedCount;
    await vi.waitUntil(() => refusedCount >= refusedSoFar + 2, { interval: 5, timeout: 15_000 });
    poison = /nothing is poison/;
    await publisher.tell([alarmFact('t9', 'unacknowledged')]);
    await posted(4);
    await vi.waitUntil(() => publisher.health().ok, { interval: 5 });
    const words = posts.flatMap(({ data }) => data.sentence ?? []);
    // One goes ahead to find out whether the gateway is back; which it is depends on the moment.
    expect(words.toSorted()).toEqual([
      expect.stringMatching(/^Bench south, 08:15 round: water 2 trays of minis.*Trays: t2 and t4\./),
      expect.stringMatching(/^From Sat 07:00, held up at the webhook "sms": Bench south: t2 may not/),
    ]);
    const states = posts.flatMap(({ type, data }) => (type === 'alarm' ? data.state : []));
    expect(states.filter((state) => state === 'normal')).toHaveLength(1);
    expect(posts.filter(({ data }) => data.tray === 't1').at(-1)?.data.state).toBe('normal');
  });

  it.each([500, 422])(
    'a post answered %i while others are taken keeps none from going out; it is given up, which is said',
    async (status) => {
      poison = /poison/;
      poisonStatus = status;
      await publisher.tell([callFact(['t1'], 'poison')]);
      await away();
      const isSaid = () => publisher.health().reason === 'webhook-refused';
      let count = 0;
      while (!isSaid()) {
        await publisher.tell([callFact(['t1'], `call ${count}`)]);
        count += 1;
        await posted(count);
      }
      expect(inWords(publisher.health().own)).toMatch(
        new RegExp(
          `^1 message was given up that the webhook "sms" would not take, the last: "poison" \\(it answers ${status}`,
        ),
      );
      expect(posts.map(({ data }) => data.sentence)).toEqual(
        Array.from({ length: count }, (_, n) => `call ${n}`),
      );
      expect(count).toBeGreaterThanOrEqual(3);
      wallMs += 2 * 3_600_000;
      expect(publisher.health().ok).toBe(true);
    },
  );

  it('a gateway that refuses everything of one kind gets the others, newest first of each', async () => {
    poison = /"type":"alarm"/;
    await publisher.tell(['t1', 't2', 't3', 't4', 't5'].map((tray) => alarmFact(tray, 'unacknowledged')));
    await publisher.tell([callFact(['t1'], 'Water t1.')]);
    await posted(1);
    expect(posts[0]?.data.sentence).toBe('Water t1.');
  });

  it('what waited for a week is given up, and that is said', async () => {
    answers = [503];
    await publisher.tell([callFact(['t1'], 'old')]);
    await away();
    wallMs += 8 * 86_400_000;
    await publisher.tell([callFact(['t2'], 'new')]);
    await posted(1);
    expect(posts.map(({ data }) => data.sentence)).toEqual(['new']);
    expect(inWords(publisher.health().own)).toContain('"old" (it waited for a week)');
  });

  it('leaves no trace of its posts at the broker', async () => {
    await publisher.tell([alarmFact('t1', 'unacknowledged'), roundFact('One tray.')]);
    await posted(2);
    await publisher.close();
    const { log, events } = rememberingLog();
    publisher = await open(log);
    const phone = await listener(publisher.address(), ['#']);
    await vi.waitUntil(() => events.some(({ event }) => event === 'retained-checked'), { timeout: 5_000 });
    await publisher.tell([callFact(['t9'], 'last')]);
    await phone.next(({ topic }) => topic === 'drybell/alder-row/call');
    expect(phone.heard.filter(({ topic }) => !topic.startsWith('drybell/'))).toEqual([]);
    await phone.close();
  });

  it('keeps what waits over a restart', async () => {
    answers = [503];
    await publisher.tell([callFact(['t1'], 'Tray t1 will not last.')]);
    await away();
    await publisher.close();
    publisher = await open();
    await posted(1);
    expect(posts[0]?.data.sentence).toBe('Tray t1 will not last.');
  });

  it.each([
    [{ id: 'sms', url: 'ftp://gateway.example', secret }, 'url'],
    [{ id: 'sms', url: 'https://gateway.example', secret: 'hunter2' }, 'secret'],
    [{ id: 'sms', url: 'https://gateway.example', secret: 'whsec_c2hvcnQ=' }, 'secret'],
    [{ id: 'sms', url: 'https://gateway.example' }, 'secret'],
  ])('%j is refused at %s', (hook, key) => {
    const result = messagingSchema.safeParse({ webhooks: [hook] });
    expect(result.error?.issues.map((issue) => issue.path.at(-1))).toContain(key);
  });
});
