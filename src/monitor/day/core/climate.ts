import { MS_PER_MIN } from '../../../../shared/base/time-units.js';

/** A reading older than this says nothing about the present. */
const STALE_MS = 60 * MS_PER_MIN;

interface BenchTemperature {
  readonly atMs: number;
  readonly temperatureC: number;
}

/** The latest temperature of each bench. JSON-able. */
export type KeptClimate = readonly (readonly [string, BenchTemperature])[];

/** The present air temperature of each bench, believed readings only. */
export class Climate {
  private readonly latest: Map<string, BenchTemperature>;

  constructor(kept: KeptClimate = []) {
    this.latest = new Map(kept);
  }

  kept(): KeptClimate {
    return [...this.latest];
  }

  note(benchId: string, atMs: number, temperatureC: number): void {
    this.latest.set(benchId, { atMs, temperatureC });
  }

  temperaturesC(nowMs: number): ReadonlyMap<string, number> {
    const fresh = new Map<string, number>();
    for (const [benchId, { atMs, temperatureC }] of this.latest) {
      if (nowMs - atMs <= STALE_MS) fresh.set(benchId, temperatureC);
    }
    return fresh;
  }
}
