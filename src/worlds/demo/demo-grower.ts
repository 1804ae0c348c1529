import { MS_PER_MIN } from '../../../shared/base/time-units.js';
import { toPourMl } from '../../../shared/facts/pour-amount.js';
import type { Command } from '../../../shared/wire/command.js';
import type { Fact } from '../../monitor/ports/facts.js';
import type { Clock } from '../../monitor/ports/ports.js';
import type { VirtualBench } from './virtual-bench/virtual-bench.js';

/** From a call to the first tray's water, and from each tray to the next. */
const COMES_AFTER_CALL_MS = 50 * MS_PER_MIN;
const PER_TRAY_MS = 3 * MS_PER_MIN;
/** What is poured beyond the dose; what stands after the soak is tipped out. */
const POURED_SHARE = 1.2;
const TIP_OUT_AFTER_H = 2;

/** The grower of the demo: waters what the round notice lists, comes when called, and misses one round. */
export interface DemoGrower {
  /** Hears notices and calls as the phone would show them. */
  hear(facts: readonly Fact[]): void;
  /** Waters what is due by this instant and returns what the grower tells the house. */
  work(nowMs: number): readonly Command[];
}

export interface DemoGrowerOptions {
  readonly bench: VirtualBench;
  /** Misses the first round whose notice lists anything, and comes only when called. */
  readonly lateOnce: boolean;
  /** The most that one visit puts into a tray, mL: as many pours as its channels hold. Absent: whatever is missing. */
  readonly mostPourMl?: (trayId: string) => number;
  readonly name?: string;
}

export function createDemoGrower({
  bench,
  lateOnce,
  mostPourMl = () => Number.POSITIVE_INFINITY,
  name = 'jo',
}: DemoGrowerOptions): DemoGrower {
  /** Tray to the instant at which it gets water, and the dose if one was told. */
  const plans = new Map<string, { readonly atMs: number; readonly doseMl: number | undefined }>();
  let stillToMiss = lateOnce;
  /** A tray that somebody entered by command is not on the virtual bench: it is theirs to water. */
  const onTheBench = new Set(bench.plan.trays.map(({ tray }) => tray.id));

  const plan = (trayId: string, atMs: number, doseMl: number | undefined): void => {
    if (!onTheBench.has(trayId)) return;
    const before = plans.get(trayId);
    if (before === undefined || atMs < before.atMs)
      plans.set(trayId, { atMs, doseMl: doseMl ?? before?.doseMl });
  };

  return {
    hear: (facts) => {
      for (const fact of facts) {
        if (fact.kind === 'round-notice' && fact.notice.due.length > 0) {
          if (stillToMiss) {
            stillToMiss = false;
            continue;
          }
          const roundMs = Date.parse(fact.notice.round);
          fact.notice.due.forEach((due, index) => {
            plan(due.tray, roundMs + index * PER_TRAY_MS, toPourMl(due));
          });
        }
        if (fact.kind === 'call' && (fact.call.kind === 'refill' || fact.call.kind === 'dry'))
          fact.call.trays.forEach((tray, index) => {
            plan(tray, Date.parse(fact.call.at) + COMES_AFTER_CALL_MS + index * PER_TRAY_MS, undefined);
          });
      }
    },
    work: (nowMs) => {
      const told: Command[] = [];
      for (const [trayId, { atMs, doseMl }] of [...plans]) {
        if (atMs > nowMs) continue;
        plans.delete(trayId);
        bench.step(Math.max(nowMs, bench.nowMs()));
        const pouredMl = POURED_SHARE * (doseMl ?? bench.truth(trayId).missingMl);
        bench.pour(trayId, Math.min(mostPourMl(trayId), pouredMl), TIP_OUT_AFTER_H);
        told.push({ do: 'watered', tray: trayId, by: name });
      }
      return told;
    },
  };
}

/** Lets the grower work until the signal aborts; `tell` hands a command to the house. */
export async function letGrowerWork(
  grower: DemoGrower,
  clock: Clock,
  tell: (command: Command) => Promise<void>,
  signal: AbortSignal,
): Promise<void> {
  while (!signal.aborted) {
    for (const command of grower.work(clock.nowMs())) await tell(command);
    try {
      await clock.sleep(2 * MS_PER_MIN, signal);
    } catch (cause) {
      if (!signal.aborted) throw cause;
    }
  }
}
