import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect } from 'vitest';
import { farmConfigSchema } from '../../shared/config/farm.js';
import type { Command } from '../../shared/wire/command.js';
import { type House, openHouse } from '../../src/cli/running/house-parts/house.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import type { Clock, ProbeReader, Publisher } from '../../src/monitor/ports/ports.js';
import { openSqliteStore } from '../../src/store/sqlite/open-sqlite-store.js';

export const START_MS = Date.parse('2026-04-18T04:00:00Z');
export const HOUR_MS = 3_600_000;

export const config = farmConfigSchema.parse({
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
export class SleepClock implements Clock {
  private atMs: number;
  /** What the wall clock shows beside the time that has passed. */
  private aheadMs = 0;
  private readonly waiting: { wake: () => void }[] = [];

  constructor(
    startMs: number,
    private untilMs: number,
  ) {
    this.atMs = startMs;
  }

  nowMs(): number {
    return this.atMs + this.aheadMs;
  }

  /** Somebody sets the wall clock on by this much, or back. */
  set(byMs: number): void {
    this.aheadMs += byMs;
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

  private async held(signal: AbortSignal | undefined): Promise<void> {
    signal?.throwIfAborted();
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
        rawValue: 1.4 + (0.006 * (clock.monotonicMs() - START_MS)) / HOUR_MS,
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

export interface Opened {
  readonly house: House;
  readonly clock: SleepClock;
  readonly publisher: ReturnType<typeof listeningPublisher>;
  /** What the call lamp was told to be, in order. */
  readonly lamp: readonly boolean[];
  /** Runs to this instant and waits until the monitor has come there. */
  runTo(atMs: number): Promise<void>;
  close(): Promise<void>;
}

const folders: string[] = [];
/** Houses that the end of a test closes. */
export const open: Opened[] = [];

export function freshFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'drybell-house-'));
  folders.push(folder);
  return folder;
}

export async function openOn(
  folder: string,
  startMs: number,
  sample?: ProbeReader['sample'],
): Promise<Opened> {
  const clock = new SleepClock(startMs, startMs);
  const store = openSqliteStore({ folder, clock: stillClock(clock) });
  const publisher = listeningPublisher();
  const lamp: boolean[] = [];
  const house = await openHouse({
    config,
    drive: 'live',
    clock,
    clockSpeed: 1,
    reader: {
      ...dryingReader(clock),
      showCall: async (lit) => void lamp.push(lit),
      ...(sample === undefined ? {} : { sample }),
    },
    store,
    publisher,
  });
  const { finished } = house.monitor.start();
  const opened: Opened = {
    house,
    clock,
    publisher,
    lamp,
    runTo: async (atMs) => {
      clock.runTo(atMs);
      await expect
        .poll(() => clock.monotonicMs() + config.cadenceS * 1000 > atMs, { timeout: 20_000 })
        .toBe(true);
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

/** Closes what a test opened, and clears away its folders. */
export async function closeAll(): Promise<void> {
  for (const each of open.splice(0)) await each.close();
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
}
