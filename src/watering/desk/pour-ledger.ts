import { MS_PER_MIN } from '../../../shared/base/time-units.js';
import { isSamePour } from '../../drying/pours/same-pour.js';

/** Pours told this close together are one watering in several pours, with time to soak in between (judgement). */
const ONE_WATERING_MS = 30 * MS_PER_MIN;
const KEPT_POURS = 12;

/** One watering of one tray: what was told of it and what the blocks took up are kept apart. JSON-able. */
export interface Pour {
  /** Best estimate of when it was poured. */
  readonly atMs: number;
  /** Who knew first. */
  readonly source: 'logged' | 'detected';
  readonly told?:
    | { readonly atMs: number; readonly by?: string | undefined; readonly ml?: number | undefined }
    | undefined;
  readonly takenUpMl?: number | undefined;
}

/** A pour that somebody tells of. */
export interface ToldPour {
  readonly atMs: number;
  readonly by?: string | undefined;
  /** Poured and stayed; absent: filled, excess tipped out. */
  readonly ml?: number | undefined;
}

/**
 * What a report turned out to be: a watering not known before; one that a probe had shown already; the amount of one that a probe
 * had begun to show; a further pour of a watering under way; or one that was told already.
 */
export type PourOutcome = 'new' | 'known-from-probe' | 'measured' | 'further-pour' | 'told-already';

export interface PourEntry {
  readonly outcome: PourOutcome;
  readonly pours: readonly Pour[];
  /** The pour as it stands now. */
  readonly pour: Pour;
}

/** Whether a log has this very row already. Messages have ids of their own: two that say the same are two pours. */
export function hasRow(pours: readonly Pour[], row: ToldPour): boolean {
  return pours.some(({ told }) => told?.atMs === row.atMs && told.by === row.by && told.ml === row.ml);
}

function keep(pours: readonly Pour[], pour: Pour, instead?: Pour): readonly Pour[] {
  return [...pours.filter((other) => other !== instead), pour]
    .sort((a, b) => a.atMs - b.atMs)
    .slice(-KEPT_POURS);
}

/** Enters a told pour. */
export function tellPour(pours: readonly Pour[], report: ToldPour): PourEntry {
  const told = { atMs: report.atMs, by: report.by, ml: report.ml };
  const shown = pours.find((pour) => pour.told === undefined && isSamePour(pour.atMs, report.atMs));
  if (shown !== undefined) {
    const pour: Pour = { ...shown, told };
    return { outcome: 'known-from-probe', pours: keep(pours, pour, shown), pour };
  }
  const begun = pours.some(
    ({ told: other }) => other !== undefined && Math.abs(other.atMs - report.atMs) <= ONE_WATERING_MS,
  );
  const pour: Pour = { atMs: report.atMs, source: 'logged', told };
  return { outcome: begun ? 'further-pour' : 'new', pours: keep(pours, pour), pour };
}

/** Enters a rise that a probe has begun to show; how much is taken up is not known yet. */
export function beginPour(pours: readonly Pour[], atMs: number): PourEntry {
  const near = nearest(pours, atMs);
  if (near === undefined) {
    const pour: Pour = { atMs, source: 'detected' };
    return { outcome: 'new', pours: keep(pours, pour), pour };
  }
  return { outcome: near.told === undefined ? 'further-pour' : 'told-already', pours, pour: near };
}

function nearest(pours: readonly Pour[], atMs: number): Pour | undefined {
  return pours
    .filter((pour) => isSamePour(pour.atMs, atMs))
    .sort((a, b) => Math.abs(a.atMs - atMs) - Math.abs(b.atMs - atMs))[0];
}

/** Enters a rise that a probe has shown: it confirms a told watering, adds to one shown before, or is a new one. */
export function noticePour(pours: readonly Pour[], atMs: number, takenUpMl: number): PourEntry {
  const near = nearest(pours, atMs);
  if (near === undefined) {
    const pour: Pour = { atMs, source: 'detected', takenUpMl };
    return { outcome: 'new', pours: keep(pours, pour), pour };
  }
  const pour: Pour = { ...near, takenUpMl: (near.takenUpMl ?? 0) + takenUpMl };
  return {
    outcome:
      near.told !== undefined ? 'told-already' : near.takenUpMl === undefined ? 'measured' : 'further-pour',
    pours: keep(pours, pour, near),
    pour,
  };
}

/** When the tray was last watered for sure; undefined when never in memory. */
export function lastWateredMs(pours: readonly Pour[]): number | undefined {
  return pours[pours.length - 1]?.atMs;
}
