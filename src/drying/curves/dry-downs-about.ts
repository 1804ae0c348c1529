import type { DryDownSummary } from './kept-dry-down.js';

/** Dry-downs by tray, in the order in which they come. */
export function byTray<T extends DryDownSummary>(dryDowns: readonly T[]): ReadonlyMap<string, readonly T[]> {
  const trays = new Map<string, T[]>();
  for (const one of dryDowns) {
    const own = trays.get(one.trayId);
    if (own === undefined) trays.set(one.trayId, [one]);
    else own.push(one);
  }
  return trays;
}

/** Finds what a tray was at an instant by its dry-downs: an id is used again for another crop once its tray has ended. */
export class DryDownsAbout<T extends DryDownSummary> {
  readonly #byTray: ReadonlyMap<string, readonly T[]>;

  constructor(dryDowns: readonly T[]) {
    this.#byTray = byTray(dryDowns);
  }

  /** The tray's dry-down that an instant lies in, or the nearest to it; undefined where the tray has none. */
  nearest(trayId: string, atMs: number): T | undefined {
    let found: T | undefined;
    let nearestMs = Number.POSITIVE_INFINITY;
    for (const one of this.#byTray.get(trayId) ?? []) {
      const awayMs = Math.max(one.startedAtMs - atMs, atMs - one.endedAtMs, 0);
      if (awayMs >= nearestMs) continue;
      found = one;
      nearestMs = awayMs;
    }
    return found;
  }
}
