import { documentValue, type KeptDocument } from '../../../shared/base/kept-document.js';
import type { ToldNotice } from '../sentences/said/told.js';
import type { AlarmRecord } from './alarm-record.js';
import type { DeskOptions } from './desk-options.js';
import { type GrowerHabit, startingHabit } from './grower-habit.js';
import type { Pour } from './pour-ledger.js';
import type { HeldWater, Shortfall } from './shortfall.js';
import {
  historyFromState,
  historyState,
  startHistory,
  type TrayHistory,
  type TrayHistoryState,
} from './tray-history.js';

/** Nobody told of this tray at a round: perhaps it was watered then. */
export interface PerhapsWatered {
  readonly atMs: number;
  readonly probability: number;
  /** Somebody was asked about it; nobody is asked twice. */
  readonly asked?: boolean | undefined;
}

/** A pour that a probe has begun to show. */
export interface RisingWater {
  readonly sinceMs: number;
}

/** What the desk remembers of one tray beside its life. JSON-able. */
export interface TrayMemory {
  pours: readonly Pour[];
  perhaps?: PerhapsWatered | undefined;
  /** A probe shows a pour that is being taken up, until the rise is over. */
  rising?: RisingWater | undefined;
  /** Somebody said that it was left out of a round. */
  leftOutAtMs?: number | undefined;
  /** The round at which it was due and evidently was not watered. */
  missedRoundMs?: number | undefined;
  /** The grower said that it is ready for water: they stand before it. */
  readyAtMs?: number | undefined;
  /** What it would have taken up at the last notice, mL, before the learned factor. */
  missingMlAtNotice?: { readonly atMs: number; readonly ml: number } | undefined;
  /** Learned log of (taken up / missing), mean of this many fillings. */
  uptake: { readonly logMean: number; readonly count: number };
  /** What the model said of it at the last decision. */
  held?: HeldWater | undefined;
  /** The doubt that it holds less than that. */
  shortfall?: Shortfall | undefined;
  /** Since when it has been as wet as just watered. */
  wetSinceMs?: number | undefined;
}

/** One round that a notice was sent for, until it is settled who was watered. JSON-able. */
export interface RoundMemory {
  readonly roundMs: number;
  readonly noticeAtMs: number;
  readonly due: readonly string[];
  /** The grower was away: it did not happen. */
  skipped: boolean;
  settled: boolean;
}

/** A command that was carried out within a day: told again, it is answered and not done again. */
export interface ToldCommand {
  readonly ref: string;
  readonly atMs: number;
}

/** Trays that the last answer to "away" named as not lasting; forgotten once their alarms have had time to come up. */
export interface Leaving {
  readonly atMs: number;
  readonly named: readonly string[];
}

/** The last test call, until it is answered by every way or a day is over. */
export interface OpenTest {
  readonly test: string;
  readonly atMs: number;
  /** Ways by which somebody said that it came. */
  readonly seenWays: readonly string[];
}

/** Everything the desk carries from one moment to the next. */
export interface DeskState {
  history: TrayHistory;
  memory: Map<string, TrayMemory>;
  /** By `alarmKey`. */
  alarms: Map<string, AlarmRecord>;
  rounds: readonly RoundMemory[];
  habit: GrowerHabit;
  awayUntilMs?: number | undefined;
  leaving?: Leaving | undefined;
  told: readonly ToldCommand[];
  /** When people were last called about trays, by bench; "" for a summary over benches. */
  calledAtMs: Map<string, number>;
  notice?: ToldNotice | undefined;
  test?: OpenTest | undefined;
}

interface Snapshot {
  readonly version: number;
  readonly history: TrayHistoryState;
  readonly memory: readonly (readonly [string, TrayMemory])[];
  readonly alarms: readonly (readonly [string, AlarmRecord])[];
  readonly rounds: readonly RoundMemory[];
  readonly habit: GrowerHabit;
  readonly awayUntilMs?: number | undefined;
  readonly leaving?: Leaving | undefined;
  readonly told: readonly ToldCommand[];
  readonly calledAtMs: readonly (readonly [string, number])[];
  readonly notice?: ToldNotice | undefined;
  readonly test?: OpenTest | undefined;
}

/** The desk of a farm's first hour: no trays yet, probes where the configuration puts them. */
export function startingState(options: DeskOptions): DeskState {
  const probeTray = options.probes.flatMap((probe): [string, string][] =>
    'tray' in probe && probe.tray !== undefined ? [[probe.id, probe.tray]] : [],
  );
  return {
    history: startHistory(probeTray),
    memory: new Map(),
    alarms: new Map(),
    rounds: [],
    habit: startingHabit,
    told: [],
    calledAtMs: new Map(),
  };
}

/** Keys in one order, whatever the order in which they were set: equal records are equal bytes. */
function withSortedKeys<T extends object>(record: T): T {
  return Object.fromEntries(Object.entries(record).sort(([a], [b]) => (a < b ? -1 : 1))) as T;
}

/** A deep, JSON-able copy. */
export function takeSnapshot(state: DeskState): unknown {
  const snapshot: Snapshot = {
    version: deskDocument.version,
    history: historyState(state.history),
    memory: [...state.memory].map(([id, memory]) => [id, withSortedKeys(memory)] as const),
    alarms: [...state.alarms].map(([key, alarm]) => [key, withSortedKeys(alarm)] as const),
    rounds: state.rounds,
    habit: state.habit,
    awayUntilMs: state.awayUntilMs,
    leaving: state.leaving,
    told: state.told,
    calledAtMs: [...state.calledAtMs],
    notice: state.notice,
    test: state.test,
  };
  return JSON.parse(JSON.stringify(snapshot));
}

/** What the desk keeps, as JSON. Its version is raised with its shape, and a step makes the new shape of the old one. */
export const deskDocument: KeptDocument<DeskState> = {
  name: "The desk's state",
  version: 1,
  steps: {},
  read: (document) => {
    const lists = ['memory', 'alarms', 'rounds', 'told', 'calledAtMs'];
    if (
      !lists.every((key) => Array.isArray(document[key])) ||
      !('history' in document && 'habit' in document)
    )
      return undefined;
    const copy: Snapshot = JSON.parse(JSON.stringify(document));
    return {
      history: historyFromState(copy.history),
      memory: new Map(copy.memory),
      alarms: new Map(copy.alarms),
      rounds: copy.rounds,
      habit: copy.habit,
      awayUntilMs: copy.awayUntilMs,
      leaving: copy.leaving,
      told: copy.told.map(({ ref, atMs }) => ({ ref, atMs })),
      calledAtMs: new Map(copy.calledAtMs),
      notice: copy.notice,
      test: copy.test,
    };
  },
};

/** The state of a snapshot. Throws RangeError when it can't be read. */
export function restoreState(value: unknown): DeskState {
  const state = documentValue(deskDocument, value);
  if (state === undefined) throw new RangeError(`${deskDocument.name} is missing`);
  return state;
}

/** What is remembered of a tray, made when first asked for. */
export function memoryOf(state: DeskState, trayId: string): TrayMemory {
  const known = state.memory.get(trayId);
  if (known !== undefined) return known;
  const fresh: TrayMemory = { pours: [], uptake: { logMean: 0, count: 0 } };
  state.memory.set(trayId, fresh);
  return fresh;
}
