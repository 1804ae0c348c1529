import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Level } from 'level';
import { connectAsync } from 'mqtt';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type BrokerMemory, openBrokerMemory } from '../../src/messaging/embedded/broker-memory.js';
import { openEmbeddedBroker } from '../../src/messaging/embedded/embedded-broker.js';
import { COUNT_EVERY_MS, KEPT_DAYS } from '../../src/messaging/embedded/old-sessions.js';
import { quietLog } from './quiet-log.js';

const COUNTS = (KEPT_DAYS * 86_400_000) / COUNT_EVERY_MS;
const SAID = 20;
const disk = { lost: () => undefined, found: () => undefined };
const nobody = () => false;

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'drybell-sessions-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** A phone with a strange name subscribes and leaves, and messages come for it. */
async function comeAndGo(id = 'anna: phone'): Promise<void> {
  const broker = await openEmbeddedBroker({
    farm: 'alder-row',
    host: '127.0.0.1',
    port: 0,
    folder,
    log: quietLog,
  });
  const phone = await connectAsync(broker.address, { clientId: id, clean: false, protocolVersion: 4 });
  await phone.subscribeAsync('drybell/alder-row/#', { qos: 1 });
  await phone.endAsync();
  for (let n = 0; n < SAID; n++)
    await broker.say({ topic: `drybell/alder-row/forecast/t${n}`, payload: '{}', retain: true });
  await broker.close();
}

async function count(times: number, isHere: (id: string) => boolean = nobody): Promise<readonly string[]> {
  const memory: BrokerMemory = await openBrokerMemory(folder, 0, disk);
  const forgotten: string[] = [];
  for (let n = 0; n < times; n++) forgotten.push(...((await memory.oldSessions?.count(isHere)) ?? []));
  await memory.close();
  return forgotten;
}

async function kinds(): Promise<ReadonlyMap<string, number>> {
  const level = new Level(folder);
  const found = new Map<string, number>();
  for await (const key of level.keys()) {
    const kind = key.slice(0, key.indexOf(':'));
    found.set(kind, (found.get(kind) ?? 0) + 1);
  }
  await level.close();
  return found;
}

describe('what the own broker keeps for a phone', () => {
  it(`is forgotten after ${KEPT_DAYS} days of absence, restarts between, and nothing else is`, async () => {
    await comeAndGo();
    const before = await kinds();
    expect(before.get('outgoing')).toBe(SAID);
    expect(await count(COUNTS / 2)).toEqual([]);
    expect(await count(COUNTS / 2 - 1)).toEqual([]);
    expect((await kinds()).get('outgoing')).toBe(SAID);
    expect(await count(1)).toEqual(['anna: phone']);
    expect(await kinds()).toEqual(new Map([['retained', SAID]]));
  });

  it('is kept when the phone came once in between, and while it is there', async () => {
    await comeAndGo();
    await count(COUNTS - 1);
    await comeAndGo();
    expect(await count(COUNTS - 1)).toEqual([]);
    expect(await count(COUNTS, (id) => id === 'anna: phone')).toEqual([]);
    expect((await kinds()).get('subscriptions')).toBe(1);
  });
});
