import type { FlatLineSettings } from './bench-settings.js';

export type FlatVerdict = 'pass' | 'flat-line' | 'saturated';

const MS_PER_H = 3_600_000;
/** The block should have lost this much while its reading stood still before the probe is doubted, m³/m³ (judgement). */
const EXPECTED_DRYING_M3_PER_M3 = 0.05;
/** However strong the drying, a run shorter than this proves nothing. */
const SHORTEST_RUN_H = 1;

/**
 * Flat-line test of a stream in constant memory: follows the present run of readings that lie within the tolerance of
 * each other. Where somebody says how much the block should have dried meanwhile, that decides; else time alone does.
 */
export class FlatWatch {
  private lowest = Number.NaN;
  private highest = Number.NaN;
  private sinceMs = 0;
  private count = 0;
  private expectedM3PerM3 = 0;
  private climateKnown = false;

  constructor(private readonly settings: FlatLineSettings) {}

  judge(atMs: number, value: number, expectedDryingM3PerM3: number | undefined): FlatVerdict {
    const low = Math.min(this.lowest, value);
    const high = Math.max(this.highest, value);
    if (!(high - low <= this.settings.tolerance)) {
      this.restart(atMs, value);
      return 'pass';
    }
    this.lowest = low;
    this.highest = high;
    this.count += 1;
    if (expectedDryingM3PerM3 !== undefined) {
      this.expectedM3PerM3 += expectedDryingM3PerM3;
      this.climateKnown = true;
    }
    return this.verdict((atMs - this.sinceMs) / MS_PER_H, value);
  }

  private verdict(runH: number, value: number): FlatVerdict {
    const { suspectAfterH, fewestReadings, quietBelow, saturatedFrom, saturatedAfterH } = this.settings;
    if (this.count < fewestReadings) return 'pass';
    if (quietBelow !== undefined && value <= quietBelow) return 'pass';
    if (saturatedFrom !== undefined && saturatedAfterH !== undefined && value >= saturatedFrom)
      return runH > saturatedAfterH ? 'saturated' : 'pass';
    if (this.climateKnown)
      return runH > SHORTEST_RUN_H && this.expectedM3PerM3 > EXPECTED_DRYING_M3_PER_M3 ? 'flat-line' : 'pass';
    return runH > suspectAfterH ? 'flat-line' : 'pass';
  }

  private restart(atMs: number, value: number): void {
    this.lowest = value;
    this.highest = value;
    this.sinceMs = atMs;
    this.count = 1;
    this.expectedM3PerM3 = 0;
    this.climateKnown = false;
  }
}
