import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { seededRandom } from '../store/helpers/seeded-random.js';
import { type Counts, FaultHouse } from './fault-house.js';
import type { Harm } from './harms/harm.js';

/** A recovery that takes longer is none, also on a machine that does much else. */
const PATIENCE_MS = 180_000;
/** Promised. */
const MOST_RECOVERY_S = 30;
const CALM_MS = 180_000;
const MOST_WAIT_MS = 1_500;
/** Of what the phone sends. */
const CALL_SHARE = 0.2;
/** Slower than the own broker lets commands through: what waits is to wait for the harm. */
const SEND_EVERY_MS = 250;
const CLOCK_LIBRARY = [
  '/usr/lib/x86_64-linux-gnu',
  '/usr/lib/aarch64-linux-gnu',
  '/usr/lib/arm-linux-gnueabihf',
]
  .map((folder) => join(folder, 'faketime/libfaketimeMT.so.1'))
  .find((path) => existsSync(path));

/** The program's wall clock can be set by a file, its monotonic one goes on; undefined without Debian's faketime. */
function settableClock(clockFile: string): NodeJS.ProcessEnv | undefined {
  if (CLOCK_LIBRARY === undefined) return undefined;
  return {
    LD_PRELOAD: CLOCK_LIBRARY,
    FAKETIME_TIMESTAMP_FILE: clockFile,
    FAKETIME_NO_CACHE: '1',
    FAKETIME_DONT_FAKE_MONOTONIC: '1',
  };
}

export interface HarmReport {
  readonly name: string;
  readonly rounds: number;
  readonly counts: Counts;
  /** Until the monitor answered again after each harm had ended, s. */
  readonly recoveryS: readonly number[];
  readonly notRecovered: number;
}

/** One harm, at random moments of a working house, so many times. Undefined where this machine lacks what it needs. */
export async function runHarm(harm: Harm, rounds: number, seed: number): Promise<HarmReport | undefined> {
  const random = seededRandom(seed);
  const clockFolder = mkdtempSync(join(tmpdir(), 'drybell-clock-'));
  const clockFile = join(clockFolder, 'offset');
  const setClock = (offsetS: number) => writeFileSync(clockFile, `${offsetS < 0 ? '' : '+'}${offsetS}s\n`);
  setClock(0);
  const env = harm.needs.includes('clock') ? settableClock(clockFile) : {};
  const house = env === undefined ? undefined : await FaultHouse.open(harm.needs, { ...env, ...harm.env });
  if (house === undefined) return undefined;
  const send = () => (random() < CALL_SHARE ? house.call() : house.note());
  const recoveryS: number[] = [];
  let notRecovered = 0;
  try {
    for (let round = 0; round < rounds; round++) {
      const untilMs = performance.now() + MOST_WAIT_MS * random();
      do {
        send();
        await sleep(2 * SEND_EVERY_MS * random());
        house.look();
      } while (performance.now() < untilMs);
      const busy = setInterval(send, SEND_EVERY_MS);
      try {
        await harm.do(house, { random, setClock });
      } finally {
        clearInterval(busy);
      }
      await house.monitor.startIfEnded();
      const tookS = await recovery(house, harm);
      if (tookS === undefined) notRecovered += 1;
      else recoveryS.push(tookS);
    }
    await house.calm(CALM_MS);
    return { name: harm.name, rounds, counts: await house.count(CALM_MS), recoveryS, notRecovered };
  } finally {
    await house.close();
    rmSync(clockFolder, { recursive: true });
  }
}

/** Until it answers, and reads the board if there is one. */
async function recovery(house: FaultHouse, { needs }: Harm): Promise<number | undefined> {
  const answeredS = await house.answers(PATIENCE_MS);
  if (answeredS === undefined || !needs.includes('board')) return answeredS;
  const readS = await house.readsBoard(PATIENCE_MS);
  return readS === undefined ? undefined : answeredS + readS;
}

/** What was lost, doubled or false; empty: nothing. How long it took is for `isSlow`: that depends on who else uses the machine. */
export function faultsOf(harm: Harm, { counts, notRecovered }: HarmReport): readonly string[] {
  const lost = counts.readingsSeen - counts.readingsFound + counts.notesAnswered - counts.notesFound;
  return [
    ...(harm.spares === 'all' && lost > 0 ? [`${lost} lost`] : []),
    ...(harm.spares === 'all' && counts.callsMade < counts.callsDue
      ? [`${counts.callsDue - counts.callsMade} calls not made`]
      : []),
    ...(counts.notesDoubled + counts.callsDoubled > 0 ? ['doubled'] : []),
    ...(counts.readingsFalse > 0 ? [`${counts.readingsFalse} readings that no board said`] : []),
    ...(counts.crashes > 0 ? [`ended by itself ${counts.crashes} times`] : []),
    ...(notRecovered > 0 ? [`${notRecovered} times not recovered`] : []),
  ];
}

/** Whether it ever took longer to recover than is promised, on a machine left to itself. */
export function isSlow({ recoveryS }: HarmReport): boolean {
  return Math.max(0, ...recoveryS) > MOST_RECOVERY_S;
}
