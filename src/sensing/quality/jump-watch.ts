import type { JumpSettings } from './bench-settings.js';

export type JumpVerdict = 'pass' | 'spike' | 'spike-fail' | 'rise-unconfirmed';

const MS_PER_H = 3_600_000;
/** After a silence of this long anything may have happened: the first reading is taken as it comes. */
const COMPARE_WITHIN_H = 2;
/** A rise after a silence of this long is believed at once: waiting for the next reading would cost too much. */
const RISE_WITHIN_H = 0.5;
/** For this long after a rise the level may sink back towards where it came from: draining, tipping out, a false rise. */
const SETTLING_H = 6;
/** While a new level waits, the old one drifts on with this share of the fastest rate. */
const WAITING_DRIFT_SHARE = 0.25;
/** A second reading confirms a jump when it stands at least this share of it away from the old level. */
const AGREES_SHARE = 0.5;

/**
 * Spike and rate-of-change test of a stream, without a look ahead: a reading too far from the last believed one waits
 * for the following readings to confirm the new level. A rise of moisture or weight is a watering until it proves
 * false: one reading confirms it, and it never fails. Constant memory.
 */
export class JumpWatch {
  private level = Number.NaN;
  private levelAtMs = Number.NEGATIVE_INFINITY;
  private seenAtMs = Number.NEGATIVE_INFINITY;
  private pendingJump = 0;
  private pendingSinceMs = 0;
  private pendingCount = 0;
  private homeLevel = Number.NaN;
  private homeUntilMs = Number.NEGATIVE_INFINITY;

  constructor(private readonly settings: JumpSettings) {}

  judge(atMs: number, value: number): JumpVerdict {
    const elapsedH = (atMs - this.levelAtMs) / MS_PER_H;
    const intervalH = (atMs - this.seenAtMs) / MS_PER_H;
    this.seenAtMs = atMs;
    if (!(intervalH <= COMPARE_WITHIN_H)) return this.believe(atMs, value);
    const { step, stepShare, perH, waterings } = this.settings;
    const jump = value - this.level;
    const size = Math.abs(jump);
    const always = step + stepShare * Math.abs(this.level);
    const drifted = Math.min(elapsedH, intervalH) + WAITING_DRIFT_SHARE * Math.max(0, elapsedH - intervalH);
    if (size <= always + perH * drifted) return this.believe(atMs, value);
    const watering = waterings !== undefined && (jump > 0 || waterings.eitherWay);
    if (watering && (size <= always + waterings.perH * drifted || intervalH > RISE_WITHIN_H))
      return this.rise(atMs, value);
    if (this.sinksBack(atMs, value, always)) return this.believe(atMs, value);
    return this.wait(atMs, value, jump, watering);
  }

  private wait(atMs: number, value: number, jump: number, watering: boolean): JumpVerdict {
    const agrees = this.pendingCount > 0 && jump / this.pendingJump >= AGREES_SHARE;
    if (agrees) this.pendingCount += 1;
    else {
      this.pendingCount = 1;
      this.pendingSinceMs = atMs;
      this.pendingJump = jump;
    }
    const needed = watering ? 2 : this.settings.confirmReadings;
    const waitedH = (atMs - this.pendingSinceMs) / MS_PER_H;
    if (this.pendingCount >= needed && (watering || waitedH >= this.settings.confirmAfterH))
      return watering ? this.rise(atMs, value) : this.believe(atMs, value);
    if (!watering) return Math.abs(jump) > this.settings.failStep ? 'spike-fail' : 'spike';
    return 'rise-unconfirmed';
  }

  /** A fall that only takes back a part or all of a recent rise. */
  private sinksBack(atMs: number, value: number, slack: number): boolean {
    if (atMs > this.homeUntilMs) return false;
    const low = Math.min(this.homeLevel, this.level) - slack;
    const high = Math.max(this.homeLevel, this.level) + slack;
    return value >= low && value <= high;
  }

  private rise(atMs: number, value: number): JumpVerdict {
    if (atMs > this.homeUntilMs) this.homeLevel = this.level;
    this.homeUntilMs = atMs + SETTLING_H * MS_PER_H;
    return this.believe(atMs, value);
  }

  private believe(atMs: number, value: number): JumpVerdict {
    this.level = value;
    this.levelAtMs = atMs;
    this.pendingCount = 0;
    return 'pass';
  }
}
