import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { messagingSchema } from '../../shared/config/messaging.js';
import type { PushAnswer } from '../../shared/wire/push.js';
import { realClock } from '../../src/cli/program/real-clock.js';
import { createPublisher } from '../../src/messaging/publisher.js';
import type { FactStore, Publisher } from '../../src/monitor/ports/ports.js';
import { openSqliteStore } from '../../src/store/sqlite/open-sqlite-store.js';
import { backUpStore } from '../../src/store/sqlite/upkeep/backup.js';
import { restoreStore } from '../../src/store/sqlite/upkeep/restore.js';
import { inWords } from '../helpers/in-words.js';
import { describeIf } from '../helpers/needs.js';
import { alarmFact, callFact as callFactOf, readingFact, roundFact, START_MS } from '../messaging/facts.js';
import { listener } from '../messaging/listener.js';
import { quietLog } from '../messaging/quiet-log.js';
import { FakeService } from './fake-service.js';

const callFact = (trays: string[]) => callFactOf(trays, `Water ${trays.join()} now.`);

const CONTACT = 'mailto:grower@example.org';

describeIf('openssl', 'a phone called by push', () => {
  let service: FakeService;
  let folder: string;
  let store: FactStore;
  let publisher: Publisher;
  let wallMs: number;

  const clock = { nowMs: () => wallMs, monotonicMs: () => wallMs, sleep: realClock.sleep };
  const openIn = async (home: string): Promise<void> => {
    store = openSqliteStore({ folder: home, clock });
    publisher = await createPublisher({
      farm: 'alder-row',
      config: messagingSchema.parse({
        listenPort: 0,
        push: { contact: CONTACT, privateHosts: ['localhost'], caFile: service.certificates.ca },
      }),
      drive: 'live',
      timeZone: 'Europe/Berlin',
      dataFolder: home,
      shelf: store,
      nowMs: () => wallMs,
      wallNowMs: () => wallMs,
      random: () => 0,
      log: quietLog,
    });
  };
  const close = async (): Promise<void> => {
    await publisher.close();
    await store.close();
  };

  beforeEach(async () => {
    wallMs = START_MS;
    service = await new FakeService().listen();
    folder = mkdtempSync(join(tmpdir(), 'drybell-push-'));
    await openIn(folder);
  });
  afterEach(async () => {
    await close();
    await service.close();
    rmSync(folder, { recursive: true, force: true });
    expect(service.faults).toEqual([]);
  });

  const ask = (request: Parameters<NonNullable<Publisher['phones']>['ask']>[0]): Promise<PushAnswer> => {
    if (publisher.phones === undefined) throw new TypeError('nobody calls phones');
    return publisher.phones.ask(request);
  };
  const begin = (name: string) => ask({ do: 'begin', subscription: service.subscribe(name), name });
  const pushed = (count: number) => vi.waitFor(() => expect(service.pushed).toHaveLength(count), 10_000);
  const endpoint = (name: string) => `${service.origin}/push/${name}`;

  it('is told what people are told over the broker: the same words under the same id, a call with urgency', async () => {
    const answer = await begin('anna');
    expect(answer).toMatchObject({ phone: { name: 'anna' }, phones: [{ name: 'anna' }] });
    const ears = await listener(publisher.address(), ['drybell/alder-row/#']);
    await publisher.tell([
      callFact(['t1']),
      roundFact('Round at 08:15: water t1.'),
      readingFact(),
      alarmFact('t1', 'unacknowledged'),
    ]);
    await pushed(2);
    const told = await ears.next(({ topic }) => topic.endsWith('/call'));
    const { id, sentence } = JSON.parse(told.text) as { id: string; sentence: string };
    const [call, round] = service.pushed;
    expect(call).toMatchObject({
      urgency: 'high',
      ttlS: 4 * 3600,
      topic: undefined,
      sender: answer.publicKey,
      contact: CONTACT,
      message: { type: 'call', id, sentence, farm: 'alder-row', language: 'en', tag: id },
    });
    expect(round).toMatchObject({
      urgency: 'normal',
      topic: 'round',
      message: { type: 'round', tag: 'round' },
    });
    await ears.close();
  });

  it('is told nothing twice, whichever phones there are, and nothing once it ends it', async () => {
    await begin('anna');
    await begin('ben');
    await begin('anna');
    await publisher.tell([callFact(['t1'])]);
    await pushed(2);
    expect(await ask({ do: 'end', endpoint: endpoint('anna') })).toMatchObject({ phones: [{ name: 'ben' }] });
    await publisher.tell([callFact(['t2'])]);
    await pushed(3);
  });

  it('waits for its push service, and is not told then what has become untrue', async () => {
    await begin('anna');
    service.away();
    await publisher.tell([callFact(['t1'])]);
    await vi.waitFor(() => expect(publisher.health().reason).toBe('push-away'), 10_000);
    expect(inWords(publisher.health().own)).toContain('the push service of the phone of anna');
    await publisher.tell([alarmFact('t1', 'normal'), callFact(['t2'])]);
    service.back();
    await pushed(1);
    expect(service.pushed[0]?.message.sentence).toContain('t2');
    await vi.waitFor(() => expect(publisher.health().ok).toBe(true), 10_000);
  });

  it.each([404, 410])('is forgotten when its push service answers %i', async (status) => {
    await begin('anna');
    service.answers.push(status);
    await publisher.tell([callFact(['t1'])]);
    await vi.waitFor(
      async () => expect((await ask({ do: 'look', endpoint: endpoint('anna') })).phones).toEqual([]),
      10_000,
    );
    await close();
    await openIn(folder);
    expect((await ask({ do: 'look', endpoint: endpoint('anna') })).phones).toEqual([]);
    await publisher.tell([callFact(['t2'])]);
    expect(service.pushed).toEqual([]);
  });

  it('is called after a restart, with what waited, and from a backup put back on another machine', async () => {
    const { publicKey } = await begin('anna');
    service.away();
    await publisher.tell([callFact(['t1'])]);
    await close();
    service.back();
    await openIn(folder);
    await pushed(1);
    const copy = join(folder, 'copy.db');
    await backUpStore(folder, copy);
    expect(statSync(copy).mode & 0o777).toBe(0o600);
    await close();
    const other = join(folder, 'other');
    restoreStore(copy, other, { replace: false, nowMs: wallMs });
    await openIn(other);
    expect(await ask({ do: 'look', endpoint: endpoint('anna') })).toMatchObject({
      publicKey,
      phone: { name: 'anna' },
    });
    await publisher.tell([callFact(['t2'])]);
    await pushed(2);
    expect(service.pushed[1]).toMatchObject({ sender: publicKey });
  });

  it('can be tried, and hears why where that fails', async () => {
    const look = await ask({ do: 'try', endpoint: endpoint('anna') });
    expect(look.problem).toContain('is not called');
    await begin('anna');
    expect((await ask({ do: 'try', endpoint: endpoint('anna') })).problem).toBeUndefined();
    expect(service.pushed).toMatchObject([{ ttlS: 600, urgency: 'high', message: { type: 'test-call' } }]);
    service.answers.push(403, 410);
    expect((await ask({ do: 'try', endpoint: endpoint('anna') })).problem).toContain('it answers 403');
    const gone = await ask({ do: 'try', endpoint: endpoint('anna') });
    expect(gone).toMatchObject({ phones: [], problem: expect.stringContaining('the subscription is over') });
  });

  it('is told a sentence of any length within what a push service takes', async () => {
    await begin('anna');
    const call = callFact(['t1']);
    if (call.kind !== 'call') throw new TypeError('no call');
    await publisher.tell([{ ...call, call: { ...call.call, sentence: 'Wässere bald! '.repeat(900) } }]);
    await pushed(1);
    expect(service.pushed[0]?.message.sentence).toMatch(/^Wässere bald! .* …$/);
    expect(service.pushed[0]?.bytes).toBeGreaterThan(3000);
  });

  it('says when what was held up is from', async () => {
    await begin('anna');
    service.away();
    await publisher.tell([callFact(['t1'])]);
    wallMs += 3_600_000;
    // one that was on its way then has come to nothing, and one more
    const before = service.refusedCount;
    await vi.waitFor(() => expect(service.refusedCount).toBeGreaterThan(before + 1), 10_000);
    service.back();
    await pushed(1);
    expect(service.pushed[0]?.message.sentence).toMatch(/^From .*, held up at the push service: /);
  });
});
