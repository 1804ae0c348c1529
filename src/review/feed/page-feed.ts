import type { Forecast } from '../../../shared/facts/forecast.js';
import type { TrayWhy } from '../../../shared/page/page-why.js';
import type { Answer, Command } from '../../../shared/wire/command.js';
import type { MayUndo } from '../../monitor/day/undo-rule.js';
import type { Fact } from '../../monitor/ports/facts.js';
import type { BoardHealth, NodeNews } from '../../monitor/ports/ports.js';
import type { TrayNow, WatchmanHealth } from '../../watering/desk/watering-desk.js';
import type { ToldAlarm, ToldNotice } from '../../watering/sentences/said/told.js';
import type { ShownProbe } from './shown-probe.js';

/** What is full and what is refill for one tray, as the model holds it now. */
export interface TrayLevels {
  readonly containerCapacityM3PerM3: number;
  readonly refillPointM3PerM3: number;
}

/** The farm as it stands at one moment. */
export interface FarmPresent {
  readonly nowMs: number;
  /** Nobody has written to the store for long: the farm is shown as it stood at `nowMs`, when it was last heard of. */
  readonly isPast?: boolean | undefined;
  /** Seconds of the farm's clock in one second; 1 when live, 0 in the past. */
  readonly clockSpeed: number;
  readonly drive: 'live' | 'demo' | 'replay' | 'review';
  /** False where commands can only be refused. */
  readonly canTell: boolean;
  readonly trays: readonly TrayNow[];
  /** Newest forecast by tray. */
  readonly forecasts: ReadonlyMap<string, Forecast>;
  readonly levels: ReadonlyMap<string, TrayLevels>;
  /** Newest round notice. */
  readonly notice: ToldNotice | undefined;
  /** The coming rounds, ascending, epoch ms; three or more. */
  readonly nextRounds: readonly number[];
  readonly awayUntilMs?: number | undefined;
  /** A test call that waits for somebody to say that it came, by these ways. */
  readonly test?: { readonly atMs: number; readonly ways: readonly string[] } | undefined;
  /** Last transition of every alarm that is not normal. */
  readonly standing: readonly ToldAlarm[];
  readonly health: readonly WatchmanHealth[];
  /** For how long a probe's readings have been more than the model can follow, h; absent where no model runs. */
  readonly contradictedH?: ((probeId: string) => number) | undefined;
  readonly boards: readonly BoardHealth[];
  /** Which tray a moisture or weight probe sits on now. */
  readonly probeTrays: ReadonlyMap<string, string>;
  /** Where there are more than this machine's configuration names, as on a page for several houses. */
  readonly probes?: readonly ShownProbe[] | undefined;
  /** When delivered probes were last heard, and how their nodes are. */
  readonly news?: ReadonlyMap<string, NodeNews> | undefined;
  readonly benchIds?: readonly string[] | undefined;
}

/**
 * The running house as the page sees it.
 * - `present` is cheap and synchronous; it is asked for at most once a second.
 * - `subscribe` calls the listener with every fact in order, and returns what ends it.
 * - `command` resolves with the answer once what it did is durable; a refusal is an answer, not a rejection.
 *   A command without a `ref` gets one.
 * - `undoRule` says of what people told, by ref, until when it can be taken back or why not; absent where nothing can.
 * - `why` weighs what a tray's forecast rests on; undefined for an instant of which that is not remembered. Absent where no model runs.
 */
export interface PageFeed {
  present(): FarmPresent;
  subscribe(listener: (fact: Fact) => void): () => void;
  command(command: Command): Promise<Answer>;
  undoRule?(): (ref: string) => MayUndo | undefined;
  why?(trayId: string, atMs: number): Promise<TrayWhy | undefined>;
}
