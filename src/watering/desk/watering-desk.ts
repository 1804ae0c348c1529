import type { Cover } from '../../../shared/config/trays.js';
import type { TrayEvent } from '../../../shared/facts/tray-life.js';
import type { Watering } from '../../../shared/facts/watering.js';
import type { Command } from '../../../shared/wire/command.js';
import type { ModelEvent } from '../../drying/model/farm-model.js';
import type { TrayForecast } from '../../drying/model/tray-forecast.js';
import type { Said } from '../sentences/said/said.js';
import type {
  ToldAlarm,
  ToldAnswer,
  ToldAsk,
  ToldCall,
  ToldNote,
  ToldNotice,
} from '../sentences/said/told.js';
import type { RoundCalendar } from './round-calendar.js';

/** A tray as it stands now: its life played to this moment. */
export interface TrayNow {
  readonly id: string;
  readonly benchId: string;
  readonly blockSideMm: number;
  readonly blockCount: number;
  readonly crop?: string | undefined;
  readonly medium?: string | undefined;
  readonly containerCapacityM3PerM3?: number | undefined;
  readonly refillPointM3PerM3?: number | undefined;
  readonly trayAreaM2?: number | undefined;
  readonly channelDepthMm?: number | undefined;
  readonly cover: Cover;
  readonly coveredAtMs?: number | undefined;
  readonly sownAtMs?: number | undefined;
  readonly germinatedAtMs?: number | undefined;
  readonly startedAtMs: number;
  readonly hasProbe: boolean;
}

/** Health of the watchman's own parts, judged by the monitor. */
export interface WatchmanHealth {
  readonly kind: 'probe' | 'board' | 'monitor' | 'store' | 'broker';
  readonly source: string;
  readonly ok: boolean;
  /** Stable code, e.g. "silent", "flat-line", "out-of-range", "drift". */
  readonly reason: string;
  /** What the part says of itself, and what to do. */
  readonly own?: Said | undefined;
}

/**
 * What the desk may look at when it decides. Forecasts are brought forward to `nowMs` (their hours count from now),
 * though the ensemble behind them may be up to an hour old.
 */
export interface DeskView {
  readonly nowMs: number;
  readonly rounds: RoundCalendar;
  /** When the quiet hours that hold now are over; absent: none hold. */
  readonly quietUntilMs?: number | undefined;
  readonly forecasts: ReadonlyMap<string, TrayForecast>;
  /** Present air temperature by bench, believed readings only. */
  readonly temperatureC: ReadonlyMap<string, number>;
  readonly health: readonly WatchmanHealth[];
}

/** What the desk wants done; the monitor does it. */
export type DeskEffect =
  | { readonly kind: 'alarm'; readonly transition: ToldAlarm }
  | { readonly kind: 'call'; readonly call: ToldCall }
  | { readonly kind: 'round-notice'; readonly notice: ToldNotice }
  | { readonly kind: 'watering'; readonly watering: Watering }
  | { readonly kind: 'tray-event'; readonly event: TrayEvent }
  /** Undone events: the monitor strikes them out of the store and rebuilds what rests on them. */
  | { readonly kind: 'tray-event-undone'; readonly event: TrayEvent }
  | ({ readonly kind: 'note' } & ToldNote)
  /** Nobody told of this tray when its bench was watered: carry it as perhaps watered. */
  | {
      readonly kind: 'perhaps-watered';
      readonly trayId: string;
      readonly atMs: number;
      readonly probability: number;
    }
  /** What was carried as perhaps watered at that time was not. */
  | { readonly kind: 'not-watered'; readonly trayId: string; readonly atMs: number }
  | ({ readonly kind: 'ask' } & ToldAsk)
  /** Nothing is wrong: whether calls arrive is tried out by each way by which they go out; it is no alarm. */
  | {
      readonly kind: 'test-call';
      readonly at: string;
      readonly test: string;
      readonly by?: string;
      readonly ways: readonly string[];
      /** A plain "seen" answers it. */
      readonly bareSeen: boolean;
    }
  /** Somebody says that the test call came; `way` absent: without saying by which way. */
  | {
      readonly kind: 'test-seen';
      readonly at: string;
      readonly test: string;
      readonly way?: string;
      readonly by?: string;
    }
  /** An event of the log that can't be true (an unknown tray, a smaller block to pot on into); nothing changed. */
  | {
      readonly kind: 'event-refused';
      readonly event: TrayEvent;
      readonly code: string;
      readonly said: Said;
    };

/** What stands at the desk now, for a page or a terminal. */
export interface DeskStanding {
  /** The newest transition of every alarm that is not normal. */
  readonly alarms: readonly ToldAlarm[];
  readonly awayUntilMs?: number | undefined;
  readonly notice?: ToldNotice | undefined;
  /** A test call that waits for somebody to say that it came, by these ways. */
  readonly test?: { readonly atMs: number; readonly ways: readonly string[] } | undefined;
}

/**
 * The desk where watering is decided: tray life, round notices, doses, calls and their life, what was poured.
 * Pure: time comes in as an argument, what is wanted comes out as effects; state is in `snapshot()`.
 *
 * The monitor carries to the model exactly the `tray-event`, `perhaps-watered` and `not-watered` effects, in order: what was told twice is left
 * out already. A `watering` with `amends` is the same pour known better, not another one.
 */
export interface WateringDesk {
  trays(): readonly TrayNow[];
  /** The tray in which each probe stands now, by probe. */
  probeTrays(): ReadonlyMap<string, string>;
  /** What people tell. Validated by schema before; a refused command changes nothing. */
  command(
    command: Command,
    ref: string,
    view: DeskView,
  ): { readonly answer: ToldAnswer; readonly effects: readonly DeskEffect[] };
  /**
   * What the grower's log says, in replay and at start (configuration's trays come as `new` events). What is taken
   * comes back as a `tray-event` effect; a pour also as a `watering` effect, unless it is the same pour told again.
   * The monitor tells the model from effects alone: tray events (but `watered`) and logged waterings.
   */
  trayEvent(event: TrayEvent, view: DeskView): readonly DeskEffect[];
  /** What the model noticed (detected waterings). */
  noticed(event: ModelEvent, view: DeskView): readonly DeskEffect[];
  /** Called every few minutes of farm time: alarms and calls. */
  decide(view: DeskView): readonly DeskEffect[];
  /** Called `leadMin` before each round. */
  roundNotice(roundMs: number, view: DeskView): readonly DeskEffect[];
  /** Somebody has said that these trays were left out of the round at this instant; played before that round is settled. */
  leaveOut(trayIds: readonly string[], roundMs: number): void;
  standing(): DeskStanding;
  /** The alarms as they stand, for people who know how they stood in a past that was not; changes nothing. */
  retellAlarms(before: readonly ToldAlarm[], nowMs: number, by?: string): readonly DeskEffect[];
  /** Calls about these trays, benches and parts, as far as their alarms wait to be seen, called before or not. */
  callAbout(subjects: readonly string[], view: DeskView): readonly DeskEffect[];
  /** JSON-able; `createWateringDesk` takes it back after a restart, bit for bit. */
  snapshot(): unknown;
}
