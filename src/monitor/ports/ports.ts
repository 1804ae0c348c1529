import type { Forecast } from '../../../shared/facts/forecast.js';
import type { RawUnit } from '../../../shared/facts/reading.js';
import type { Command } from '../../../shared/wire/command.js';
import type { DryDownSummary, KeptDryDown } from '../../drying/curves/kept-dry-down.js';
import type { BoardState } from '../../watering/sentences/said/house-sentences.js';
import type { Said } from '../../watering/sentences/said/said.js';
import type { Fact, JudgedReading } from './facts.js';
import type { Phones } from './phones.js';

/** Time as a port. Wall time stamps readings when the sample arrives; monotonic time measures. */
export interface Clock {
  nowMs(): number;
  monotonicMs(): number;
  /** Resolves after `ms` of this clock's time. Rejects with the signal's reason when aborted. */
  sleep(ms: number, signal?: AbortSignal): Promise<void>;
}

/** One sample as it came from a probe; `rawValue` absent: the probe did not answer, and `reason` says how. */
export interface ProbeSample {
  readonly probeId: string;
  readonly observedAtMs: number;
  readonly rawValue: number | undefined;
  readonly reason?: string | undefined;
}

/** State of one board, with what it says of itself where it is not well. */
export interface BoardHealth {
  readonly boardId: string;
  readonly state: BoardState;
  readonly own: Extract<Said, readonly ['board', ...unknown[]]>;
}

/**
 * Boards and their probes.
 * - `sample` reads every hooked-up probe once; it never rejects because a probe or board fails: the sample says so.
 * - a value is stamped when it arrived, and no old value is ever given as new.
 * - a board that does not answer costs at most a few seconds, and comes back by itself.
 * - `close` stops everything it started, lamp and probe power off.
 */
export interface ProbeReader {
  sample(signal: AbortSignal): Promise<readonly ProbeSample[]>;
  health(): readonly BoardHealth[];
  /** When each delivered probe was last heard, and how its node is. */
  news?(): ReadonlyMap<string, NodeNews>;
  /** Call lamp and buzzer, on every board that has them: lit while a call is unacknowledged. */
  showCall(lit: boolean): Promise<void>;
  /** The acknowledge button on a board was pressed. */
  onAcknowledge(listener: (boardId: string) => void): void;
  close(): Promise<void>;
}

/** One message that may hold readings of delivered probes. */
export interface Delivery {
  readonly text: string;
  readonly arrivedAtMs: number;
  /** The broker had kept it: it may be of any age. */
  readonly retained: boolean;
}

/**
 * A way on which probes are delivered: one topic, serial port or UDP port.
 * - `onDelivery` hands over each message as it comes, never within the call; a source keeps none of them.
 * - what is away is tried again by itself; `trouble` says a sentence meanwhile.
 */
export interface DeliverySource {
  onDelivery(listener: (delivery: Delivery) => void): void;
  trouble(): string | undefined;
  close(): Promise<void>;
}

/** What a delivered probe's node tells beside its reading. */
export interface NodeNews {
  readonly heardAtMs: number;
  readonly battery?: number | undefined;
  readonly signalDbm?: number | undefined;
}

/** State documents by name. */
export type States = Readonly<Record<string, unknown>>;

/**
 * Where facts are kept.
 * - `keep` takes facts in order; alarms, waterings, tray events and notes are durable when its promise resolves,
 *   readings and forecasts within a minute, and at `flush`.
 * - `states` given to `keep` are saved with the facts, durable when its promise resolves: after a crash both are there or neither
 *   (where facts go elsewhere than states, facts first).
 * - when facts can't be made durable (disk full) `keep` resolves with false, and `saveState` resolves, so that calls go out: facts wait in
 *   memory, bounded and in order, are written as soon as the disk takes them again, and until then `health` is not ok.
 * - `saveState`/`loadState` keep one JSON document by name (the model's and the desk's state), replaced atomically. `loadState`
 *   rejects with the code `garbled` when what is there is not what was saved.
 * - `setStateAside` gives a document another, dated name, which it returns; nothing is kept under the old one then.
 * - `flush` and `close` reject with the code `held-back` when facts are still waiting.
 */
export interface FactStore {
  keep(facts: readonly Fact[], states?: States): Promise<boolean>;
  flush(): Promise<void>;
  saveState(name: string, state: unknown): Promise<void>;
  loadState(name: string): Promise<unknown>;
  setStateAside(name: string): Promise<string>;
  /**
   * False with a stable code when facts are being held back: `disk-full`, `read-only`, `database-away`, `quarantined`, …;
   * the sentence says how many and what to do.
   */
  health(): { readonly ok: boolean; readonly reason: string; readonly own?: Said };
  /** What could not be read when it was opened, and what became of it: a sentence each; absent: nothing. */
  troubles?(): readonly string[];
  close(): Promise<void>;
}

/**
 * Where facts are told.
 * - `tell` takes facts in order and never rejects because nobody listens: alarms, calls, notices, waterings and
 *   answers wait in a durable outbox until the broker has them; readings are told once or not at all.
 * - what was told of the newest `turn` is not told again: after a crash the house hands it over once more.
 * - `onCommand` hands over what people send, already parsed; the answer goes back as an `answer` fact with that ref.
 */
export interface Publisher {
  tell(facts: readonly Fact[], turn?: string): Promise<void>;
  onCommand(listener: (command: Command, ref: string) => void): void;
  /** False with a stable code: `away`, `twin`, `withheld`, `not-kept`, `webhook-away`, `webhook-refused`, `push-away`, `push-refused`; the sentence says what to do. */
  health(): { readonly ok: boolean; readonly reason: string; readonly own?: Said };
  /** What could not be read when it was opened, and what became of it: a sentence each; absent: nothing. */
  troubles?(): readonly string[];
  /** Those that are called by push; absent where none can be. */
  readonly phones?: Phones;
  /** Address that any MQTT client can use, e.g. `mqtt://127.0.0.1:1883`. */
  address(): string;
  close(): Promise<void>;
}

/** One bucket of a long chart: the readings of one probe between two instants. */
export interface ReadingBucket {
  readonly atMs: number;
  readonly min: number;
  readonly mean: number;
  readonly max: number;
  readonly count: number;
  /** Readings in it that do not count: flag 3, 4 or 9, but for those merely beyond their calibration (`isBelieved`). */
  readonly flaggedCount: number;
}

/** A kept forecast, short form for the fan on a tray's curve. */
export interface KeptForecast {
  readonly atMs: number;
  readonly trayId: string;
  readonly waterContentM3PerM3: number;
  readonly p10H: number | null;
  readonly p50H: number | null;
  readonly p90H: number | null;
  readonly driestTenthP50H: number | null;
}

export interface Span {
  readonly fromMs: number;
  readonly toMs: number;
}

/** A probe that has readings in the store. */
export interface KnownProbe {
  readonly probeId: string;
  readonly rawUnit: RawUnit;
  readonly firstAtMs: number;
  readonly lastAtMs: number;
}

/**
 * What the farm reviewer asks the store. `value` is the converted one where there is one, else the raw.
 * - a span holds its `fromMs` and not its `toMs`; when from is not before to the query throws a RangeError.
 * - `limit` keeps the newest; what comes back is in the order of time.
 * - a probe or tray that the store never heard of gives an empty answer.
 */
export interface ReviewQueries {
  /**
   * At most `bucketCount` buckets, those without a reading that has a value left out. Believed readings (`isBelieved`) shape
   * min, mean and max; where a bucket has none, the flagged ones do, and then `flaggedCount` equals `count`.
   * Long ranges come from roll-ups: the buckets' edges then lie on whole roll-up steps.
   */
  readingBuckets(probeId: string, span: Span, bucketCount: number): Promise<readonly ReadingBucket[]>;
  readings(probeId: string, span: Span, limit: number): Promise<readonly JudgedReading[]>;
  /** Of one tray, or of all: asking tray by tray goes through the span as often. */
  forecasts(trayId: string | undefined, span: Span): Promise<readonly KeptForecast[]>;
  /** Dry-downs that ended within the span, with the tray as it was then and the curve. */
  dryDowns(span: Span): Promise<readonly KeptDryDown[]>;
  /** The same dry-downs without their curves, which costs less. */
  dryDownSummaries(span: Span): Promise<readonly DryDownSummary[]>;
  /** The newest forecast of each tray. */
  latestForecasts(): Promise<readonly Forecast[]>;
  probes(): Promise<readonly KnownProbe[]>;
  /** Facts of these kinds, newest last; the journal, or one tray's part of it. Events struck out later carry `undone`. */
  facts(kinds: readonly Fact['kind'][], span: Span, limit: number, trayId?: string): Promise<readonly Fact[]>;
}
