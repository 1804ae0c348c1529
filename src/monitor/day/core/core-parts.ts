import { MS_PER_MIN } from '../../../../shared/base/time-units.js';
import type { FarmModel } from '../../../drying/model/farm-model.js';
import type { RoundCalendar } from '../../../watering/desk/round-calendar.js';
import type { WatchmanHealth, WateringDesk } from '../../../watering/desk/watering-desk.js';
import { type KeptSchedule, Schedule } from '../../time/schedule.js';
import type { KeptClimate } from './climate.js';

/** Told longer than this after it happened, it is told late. */
export const LATE_MS = 10 * MS_PER_MIN;

/** What a farm's desk and model are made of. */
export interface CoreParts {
  /** The bench of each air temperature probe. */
  readonly airBenches: ReadonlyMap<string, string>;
  readonly createDesk: (snapshot: unknown) => WateringDesk;
  readonly createModel: (snapshot: unknown) => FarmModel;
  readonly rounds: RoundCalendar;
  /** End of the quiet hours that hold at an instant; undefined when none do. */
  readonly quietUntil: (atMs: number) => number | undefined;
  readonly noticeLeadMin: number;
  /** True where forecasts and decisions begin with the first reading (replay), not with the start. */
  readonly waitForFirstSample: boolean;
}

/** Everything the core carries from one input to the next. JSON-able. */
export interface CoreState {
  readonly nowMs: number;
  /** How far the model was run; null: not yet. */
  readonly modelMs: number | null;
  readonly firstReadingMs?: number | undefined;
  readonly schedule: KeptSchedule;
  readonly climate: KeptClimate;
  readonly health: readonly WatchmanHealth[];
  readonly desk: unknown;
  readonly model: unknown;
}

/** A pour carried as perhaps, of which somebody has said since that it was none. */
export interface Denial {
  readonly trayId: string;
  readonly atMs: number;
}

/**
 * The schedule of a farm that starts at an instant.
 * @param noticedMs rounds that were given their notice before
 */
export function scheduleFrom(
  { rounds, noticeLeadMin }: CoreParts,
  startMs: number,
  noticedMs: readonly number[],
): Schedule {
  // One that went out from a clock that was ahead silences nothing, nor does that of a return from an absence.
  const known = noticedMs.filter((roundMs) => roundMs <= startMs + noticeLeadMin * MS_PER_MIN);
  const latestMs = known.length === 0 ? undefined : Math.max(...known);
  return new Schedule(startMs, rounds, noticeLeadMin, latestMs);
}
