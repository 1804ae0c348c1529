import type { Fact, JudgedReading } from '../../../src/monitor/ports/facts.js';
import { seededRandom } from '../../store/helpers/seeded-random.js';

export const PROBE_COUNT = 10;
export const MINUTES_PER_DAY = 1440;
export const YEAR_START_MS = Date.parse('2026-01-01T00:00:00Z');
const MINUTE_MS = 60_000;

/** Six block-moisture probes that saw down and are watered, four air probes with a day's swing; noise on all. */
export class YearOfReadings {
  readonly #random = seededRandom(1);

  /** Readings of one minute, a few milliseconds apart as a board takes them. */
  minute(minute: number): readonly JudgedReading[] {
    const atMs = YEAR_START_MS + minute * MINUTE_MS;
    return Array.from({ length: PROBE_COUNT }, (_, probe) => {
      const observedAtMs = atMs + probe * 7;
      return probe < 6 ? this.#moisture(probe, minute, observedAtMs) : this.#air(probe, minute, observedAtMs);
    });
  }

  #moisture(probe: number, minute: number, observedAtMs: number): JudgedReading {
    const cycleMin = 700 + probe * 130;
    const waterContentM3PerM3 = 0.6 - (0.28 * (minute % cycleMin)) / cycleMin + 0.004 * this.#random();
    const isSuspect = this.#random() < 0.01;
    return {
      probeId: `moist-t${probe}`,
      observedAtMs,
      rawValue: 3 - 2.5 * waterContentM3PerM3,
      rawUnit: 'V',
      waterContentM3PerM3,
      flag: isSuspect ? 3 : 1,
      flagReasons: isSuspect ? ['spike'] : [],
      calibrationId: 'cal-1',
    };
  }

  #air(probe: number, minute: number, observedAtMs: number): JudgedReading {
    const swing = Math.sin((2 * Math.PI * (minute % MINUTES_PER_DAY)) / MINUTES_PER_DAY);
    return {
      probeId: `temp-${probe}`,
      observedAtMs,
      rawValue: 18 + 6 * swing + this.#random(),
      rawUnit: 'Cel',
      waterContentM3PerM3: undefined,
      flag: 1,
      flagReasons: [],
      calibrationId: undefined,
    };
  }
}

export function asFacts(readings: readonly JudgedReading[]): readonly Fact[] {
  return readings.map((reading) => ({ kind: 'reading', reading }));
}
