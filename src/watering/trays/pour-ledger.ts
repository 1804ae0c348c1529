/** Two reports of one pour by two people count once when they lie this close. */
export const SAME_POUR_MS = 30 * 60_000;
/** A told pour and a rise of the probe this close are one watering: blocks wick for hours (forecast notes: 1.5 to 4 h). */
export const SAME_WATERING_MS = 3 * 3_600_000;
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
 * had begun to show; a further pour of a watering under way (same person, own amount); or the same pour told by somebody else.
 */
export type PourOutcome = 'new' | 'known-from-probe' | 'measured' | 'further-pour' | 'told-already';

export interface PourEntry {
  readonly outcome: PourOutcome;
  readonly pours: readonly Pour[];
  /** The pour as it stands now. */
  readonly pour: Pour;
}

function sameReport(told: NonNullable<Pour['told']>, report: ToldPour): boolean {
  if (Math.abs(told.atMs - report.atMs) > SAME_POUR_MS) return false;
  const eachHasAmount = told.ml !== undefined && report.ml !== undefined;
  const onePersonGoesOn = told.by === report.by && (report.by !== undefined || told.ml !== report.ml);
  return !(eachHasAmount && onePersonGoesOn && told.atMs !== report.atMs);
}

function keep(pours: readonly Pour[], pour: Pour, instead?: Pour): readonly Pour[] {
  return [...pours.filter((other) => other !== instead), pour]
    .sort((a, b) => a.atMs - b.atMs)
    .slice(-KEPT_POURS);
}

/** Enters a told pour. */
export function tellPour(pours: readonly Pour[], report: ToldPour): PourEntry {
  const twin = pours.find(({ told }) => told !== undefined && sameReport(told, report));
  if (twin !== undefined) return { outcome: 'told-already', pours, pour: twin };
  const told = { atMs: report.atMs, by: report.by, ml: report.ml };
  const shown = pours.find(
    (pour) => pour.told === undefined && Math.abs(pour.atMs - report.atMs) <= SAME_WATERING_MS,
  );
  if (shown !== undefined) {
    const pour: Pour = { ...shown, told };
    return { outcome: 'known-from-probe', pours: keep(pours, pour, shown), pour };
  }
  const begun = pours.some(
    ({ told: other }) => other !== undefined && Math.abs(other.atMs - report.atMs) <= SAME_POUR_MS,
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
    .filter((pour) => Math.abs(pour.atMs - atMs) <= SAME_WATERING_MS)
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

/** The ledger without what was told by this person at this instant; a watering that a probe has shown stays. */
export function untellPour(pours: readonly Pour[], atMs: number, by: string | undefined): readonly Pour[] {
  return pours.flatMap((pour) => {
    if (pour.told === undefined || pour.told.atMs !== atMs || pour.told.by !== by) return [pour];
    const { told: _, ...shown } = pour;
    const isShown = pour.source === 'detected' || pour.takenUpMl !== undefined;
    return isShown ? [{ ...shown, source: 'detected' as const }] : [];
  });
}

/** When the tray was last watered for sure; undefined when never in memory. */
export function lastWateredMs(pours: readonly Pour[]): number | undefined {
  return pours[pours.length - 1]?.atMs;
}
