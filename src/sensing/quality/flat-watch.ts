import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { FlatLineSettings } from './bench-settings.js';

export type FlatVerdict = 'pass' | 'flat-line' | 'saturated';

/**
 * The block should have lost this much while its reading stood still before the probe is doubted, m³/m³ (judgement: eight
 * converter steps of a usual probe). What is handed in is a low estimate, so that few blocks dry more slowly.
 */
const EXPECTED_DRYING_M3_PER_M3 = 0.02;
/** A wet block is given so many times as much: what air takes may come out of the channels first. */
const WET_PATIENCE = 3;
/** However strong the drying, a run shorter than this proves nothing. */
const SHORTEST_RUN_H = 1;

/** The present run of readings that lie within a tolerance of each other. */
class Run {
  sinceMs = 0;
  count = 0;
  private lowest = Number.NaN;
  private highest = Number.NaN;

  constructor(private readonly tolerance: number) {}

  /** Takes a reading; false when it begins a new run. */
  goesOn(atMs: number, value: number): boolean {
    const low = Math.min(this.lowest, value);
    const high = Math.max(this.highest, value);
    if (high - low <= this.tolerance) {
      this.lowest = low;
      this.highest = high;
      this.count += 1;
      return true;
    }
    this.lowest = value;
    this.highest = value;
    this.sinceMs = atMs;
    this.count = 1;
    return false;
  }

  hours(atMs: number): number {
    return (atMs - this.sinceMs) / MS_PER_HOUR;
  }
}

/** Hours since an instant; endless when there was none. */
function hoursBetween(fromMs: number | undefined, toMs: number): number {
  return fromMs === undefined ? Number.POSITIVE_INFINITY : (toMs - fromMs) / MS_PER_HOUR;
}

/**
 * Flat-line test of a stream in constant memory. Where somebody says how much the block should have dried meanwhile,
 * that decides, over a run that may flicker by a converter step; since nobody says so any more, time alone does, over a run without
 * any movement.
 */
export class FlatWatch {
  private readonly still: Run;
  private readonly exact: Run;
  private expectedM3PerM3 = 0;
  /** When it was last said how much the block should have dried in the present run. */
  private saidAtMs: number | undefined;

  constructor(private readonly settings: FlatLineSettings) {
    this.still = new Run(settings.flickerTolerance);
    this.exact = new Run(settings.tolerance);
  }

  /** `judged` is the water content of a calibrated probe, the raw value of any other. */
  judge(atMs: number, raw: number, judged: number, expectedDryingM3PerM3: number | undefined): FlatVerdict {
    this.exact.goesOn(atMs, raw);
    if (!this.still.goesOn(atMs, raw)) {
      this.expectedM3PerM3 = 0;
      this.saidAtMs = undefined;
    } else if (expectedDryingM3PerM3 !== undefined) {
      this.expectedM3PerM3 += expectedDryingM3PerM3;
      this.saidAtMs = atMs;
    }
    return this.verdict(atMs, judged);
  }

  private verdict(atMs: number, judged: number): FlatVerdict {
    const { suspectAfterH, fewestReadings, quietBelow, wetFrom, saturatedFrom, saturatedAfterH } =
      this.settings;
    const patience = wetFrom !== undefined && judged >= wetFrom ? WET_PATIENCE : 1;
    if (quietBelow !== undefined && judged <= quietBelow) return 'pass';
    if (
      this.still.count >= fewestReadings &&
      this.still.hours(atMs) > SHORTEST_RUN_H &&
      this.expectedM3PerM3 > patience * EXPECTED_DRYING_M3_PER_M3
    )
      return 'flat-line';
    if (this.exact.count < fewestReadings) return 'pass';
    const runH = Math.min(this.exact.hours(atMs), hoursBetween(this.saidAtMs, atMs));
    if (saturatedFrom !== undefined && saturatedAfterH !== undefined && judged >= saturatedFrom)
      return runH > saturatedAfterH ? 'saturated' : 'pass';
    return runH > suspectAfterH ? 'flat-line' : 'pass';
  }
}
