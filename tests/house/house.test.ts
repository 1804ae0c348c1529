import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import type { Command } from '../../shared/command.js';
import { farmConfigSchema } from '../../shared/config/farm.js';
import { type House, openHouse } from '../../src/cli/house/house.js';
import type { Fact } from '../../src/monitor/facts.js';
import type { Clock, ProbeReader, Publisher } from '../../src/monitor/ports.js';
import { openSqliteStore } from '../../src/store/sqlite/open-sqlite-store.js';

const START_MS = Date.parse('2026-04-18T04:00:00Z');
const HOUR_MS = 3_600_000;

const config = farmConfigSchema.parse({
  farm: 'alder-row',
  timeZone: 'Europe/Berlin',
  cadenceS: 600,
  benches: [{ id: 'south' }],
  trays: [
    { id: 't1', bench: 'south', blockSideMm: 19, blockCount: 280 },
    { id: 't2', bench: 'south', blockSideMm: 51, blockCount: 48 },
  ],
  probes: [
    { id: 'temp', kind: 'air-temperature', bench: 'south' },
    { id: 'moist', kind: 'block-moisture', tray: 't1' },
  ],
});

/** A clock that moves only by sleeping: hours pass as fast as the monitor asks for them, up to an end. */
class SleepClock implements Clock {
  private atMs: number;
  private readonly waiting: { wake: () => void }[] = [];

  constructor(
    startMs: number,
    private untilMs: number,
  ) {
    this.atMs = startMs;
  }

  nowMs(): number {
    return this.atMs;
  }

  monotonicMs(): number {
    return this.atMs;
  }

  async sleep(ms: number, signal?: AbortSignal): Promise<void> {
    while (this.atMs + ms > this.untilMs) await this.held(signal);
    this.atMs += ms;
  }

  /** Lets the time run on. */
  runTo(untilMs: number): void {
    this.untilMs = untilMs;
    for (const { wake } of this.waiting.splice(0)) wake();
  }

  private held(signal: AbortSignal | undefined): Promise<void> {
    return new Promise((resolve, reject) => {
      this.waiting.push({ wake: resolve });
      signal?.addEventListener('abort', () => reject(signal.reason as Error));
    });
  }
}

/** The same time for the store, whose upkeep does not come due in these tests. */
function stillClock(clock: Clock): Clock {
  return {
    nowMs: () => clock.nowMs(),
    monotonicMs: () => clock.monotonicMs(),
    sleep: (_, signal) =>
      new Promise((__, reject) => signal?.addEventListener('abort', () => reject(signal.reason as Error))),
  };
}

/** A bench that dries by 6 mV an hour; the probe's voltage rises as it does. */
function dryingReader(clock: Clock): ProbeReader {
  return {
    sample: async () => [
      { probeId: 'temp', observedAtMs: clock.nowMs(), rawValue: 21 },
      {
        probeId: 'moist',
        observedAtMs: clock.nowMs(),
        rawValue: 1.4 + (0.006 * (clock.nowMs() - START_MS)) / HOUR_MS,
      },
    ],
    health: () => [],
    showCall: async () => undefined,
    onAcknowledge: () => undefined,
    close: async () => undefined,
  };
}

function listeningPublisher(): Publisher & {
  send(command: Command, ref: string): void;
  readonly told: Fact[];
  /** Ids of the turns in which something was told. */
  readonly turns: string[];
  /** Called before anything of a turn is taken: what happens then finds a house that has kept but not told. */
  beforeTaking: (facts: readonly Fact[]) => void;
} {
  const told: Fact[] = [];
  const turns: string[] = [];
  let listener: ((command: Command, ref: string) => void) | undefined;
  return {
    told,
    turns,
    beforeTaking: () => undefined,
    send: (command, ref) => listener?.(command, ref),
    async tell(facts, turn) {
      this.beforeTaking(facts);
      if (turn !== undefined) turns.push(turn);
      told.push(...facts);
    },
    onCommand: (given) => {
      listener = given;
    },
    health: () => ({ ok: true, reason: 'ok' }),
    address: () => 'mqtt://127.0.0.1:0',
    close: async () => undefined,
  };
}

interface Opened {
  readonly house: House;
  readonly clock: SleepClock;
  readonly publisher: ReturnType<typeof listeningPublisher>;
  /** Runs to this instant and waits until the monitor has come there. */
  runTo(atMs: number): Promise<void>;
  close(): Promise<void>;
}

const folders: string[] = [];
const open: Opened[] = [];

function freshFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'drybell-house-'));
  folders.push(folder);
  return folder;
}

async function openOn(folder: string, startMs: number, sample?: ProbeReader['sample']): Promise<Opened> {
  const clock = new SleepClock(startMs, startMs);
  const store = openSqliteStore({ folder, clock: stillClock(clock) });
  const publisher = listeningPublisher();
  const house = await openHouse({
    config,
    drive: 'live',
    clock,
    clockSpeed: 1,
    reader: { ...dryingReader(clock), ...(sample === undefined ? {} : { sample }) },
    store,
    publisher,
  });
  const { finished } = house.monitor.start();
  const opened: Opened = {
    house,
    clock,
    publisher,
    runTo: async (atMs) => {
      clock.runTo(atMs);
      await expect.poll(() => clock.nowMs() + config.cadenceS * 1000 > atMs, { timeout: 20_000 }).toBe(true);
      await house.feed.command({ do: 'note', text: `it is ${new Date(atMs).toISOString()}` });
    },
    close: async () => {
      await house.monitor.close();
      await finished;
      await store.close();
    },
  };
  open.push(opened);
  return opened;
}

afterEach(async () => {
  for (const each of open.splice(0)) await each.close();
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

const trayIds = (house: House): string[] => house.desk.trays().map(({ id }) => id);

describe('the house', () => {
  it('answers a command that came over MQTT, keeps what it did, and forecasts the new tray', async () => {
    const folder = freshFolder();
    const { house, publisher, runTo } = await openOn(folder, START_MS);
    await runTo(START_MS + HOUR_MS);
    publisher.send({ do: 'new-tray', tray: 't3', bench: 'south', blockSideMm: 38, blockCount: 72 }, 'r1');
    await expect
      .poll(() => publisher.told.find((fact) => fact.kind === 'answer' && fact.answer.ref === 'r1'))
      .toMatchObject({ answer: { ok: true } });
    expect(trayIds(house)).toEqual(['t1', 't2', 't3']);
    await runTo(START_MS + 2 * HOUR_MS);
    const forecasts = publisher.told.flatMap((fact) =>
      fact.kind === 'forecast' ? [fact.forecast.tray] : [],
    );
    expect(forecasts).toContain('t3');
  });

  it('comes back after a restart with the trays, the answers and the learning it had', async () => {
    const folder = freshFolder();
    const first = await openOn(folder, START_MS);
    await first.runTo(START_MS + 5 * HOUR_MS);
    await first.house.feed.command({ do: 'watered', tray: 't1' });
    await first.house.feed.command({ do: 'end', tray: 't2' });
    await first.runTo(START_MS + 8 * HOUR_MS);
    const believed = first.house.model.forecast('t1');
    await open.splice(0)[0]?.close();
    const second = await openOn(folder, first.clock.nowMs());
    expect(trayIds(second.house)).toEqual(['t1']);
    expect(second.house.model.explain('t1').lines).toEqual(first.house.model.explain('t1').lines);
    expect(second.house.model.forecast('t1').waterContentM3PerM3).toBeCloseTo(
      believed.waterContentM3PerM3,
      6,
    );
  });

  it('after a power cut nothing that was answered is lost, and no tray comes twice', async () => {
    const folder = freshFolder();
    const { house, clock, runTo } = await openOn(folder, START_MS);
    await runTo(START_MS + 3 * HOUR_MS);
    await house.feed.command({ do: 'watered', tray: 't1', ref: 'poured' });
    await house.feed.command({ do: 'move', tray: 't2', bench: 'south' });
    await house.feed.command({
      do: 'new-tray',
      tray: 't4',
      bench: 'south',
      blockSideMm: 25,
      blockCount: 160,
    });
    // The disk as the power cut finds it: files copied while the monitor still holds them open.
    const found = freshFolder();
    cpSync(folder, found, { recursive: true, filter: (path) => !path.endsWith('writer.lock') });
    const after = await openOn(found, clock.nowMs() + 60_000);
    expect(trayIds(after.house)).toEqual(['t1', 't2', 't4']);
    const undone = await after.house.feed.command({ do: 'undo', undo: 'poured' });
    expect(undone.ok).toBe(true);
  });

  it('a power cut between keeping a call and telling it: it is told after the start, under the same turn, and made once', async () => {
    const calls = (facts: readonly Fact[]) => facts.filter(({ kind }) => kind === 'call');
    const folder = freshFolder();
    const found = freshFolder();
    const { house, clock, publisher, runTo } = await openOn(folder, START_MS);
    await runTo(START_MS + HOUR_MS);
    let cutAtMs = 0;
    publisher.beforeTaking = (facts) => {
      if (calls(facts).length === 0 || cutAtMs > 0) return;
      cutAtMs = clock.nowMs();
      cpSync(folder, found, { recursive: true, filter: (path) => !path.endsWith('writer.lock') });
    };
    // ready for water, and nobody gives any: dry, and called
    await house.feed.command({ do: 'looked', tray: 't2', level: 1 });
    await runTo(START_MS + 12 * HOUR_MS);
    const [first] = calls(publisher.told);
    expect(cutAtMs).toBeGreaterThan(0);
    const after = await openOn(found, cutAtMs + 60_000);
    expect(calls(after.publisher.told)).toEqual([JSON.parse(JSON.stringify(first))]);
    const cutTurn = after.publisher.turns[0];
    expect(publisher.turns).toContain(cutTurn);
    await after.runTo(cutAtMs + HOUR_MS);
    const about = (fact: Fact | undefined) =>
      fact?.kind === 'call' ? `${fact.call.kind} ${fact.call.trays}` : '';
    expect(calls(after.publisher.told).filter((fact) => about(fact) === about(first))).toHaveLength(1);
  });

  it('is told to stop in the middle of a reading, and ends without a fault', async () => {
    const { house, clock } = await openOn(freshFolder(), START_MS, (signal) => {
      return new Promise((_, reject) => {
        signal.addEventListener('abort', () =>
          reject(Object.assign(new Error('aborted'), { name: 'AbortError' })),
        );
      });
    });
    expect(clock.nowMs()).toBe(START_MS);
    await expect(house.monitor.close()).resolves.toBeUndefined();
  });
});
