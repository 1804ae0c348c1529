import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { JumpSettings } from './bench-settings.js';

export type JumpVerdict = 'pass' | 'spike' | 'spike-fail' | 'rise-unconfirmed';

/** After a silence of this long anything may have happened: the first reading is taken as it comes. */
const COMPARE_WITHIN_H = 2;
/** A rise after a silence of this long is believed at once: waiting for the next reading would cost too much. */
const RISE_WITHIN_H = 0.5;
/** So many readings after a rise, a fall back to where it came from says that the rise was false: believed at once. */
const FALSE_RISE_READINGS = 3;
/** For this long after a rise a fall needs one confirming reading only: draining, the excess tipped out. */
const SETTLING_H = 6;
const CONFIRMED_AT = 2;
/** While a new level waits, the old one drifts on with this share of the fastest rate. */
const WAITING_DRIFT_SHARE = 0.25;
/**
 * A probe that is noisy by nature gets room: this many times its mean step between believed readings (four standard
 * deviations of a step, for a normal scatter), up to so many times the setting.
 */
const NOISE_STEPS = 5;
const MOST_ROOM = 3;
/** Weight of a new step in the mean. */
const NOISE_WEIGHT = 0.03;
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
  private meanStep = 0;
  private pendingJump = 0;
  private pendingSinceMs = 0;
  private pendingCount = 0;
  private homeLevel = Number.NaN;
  private settlingUntilMs = Number.NEGATIVE_INFINITY;
  private readingsSinceRise = Number.POSITIVE_INFINITY;

  constructor(private readonly settings: JumpSettings) {}

  judge(atMs: number, value: number): JumpVerdict {
    const elapsedH = (atMs - this.levelAtMs) / MS_PER_HOUR;
    const intervalH = (atMs - this.seenAtMs) / MS_PER_HOUR;
    this.seenAtMs = atMs;
    if (!(intervalH <= COMPARE_WITHIN_H)) return this.believe(atMs, value);
    const { perH, waterings } = this.settings;
    const jump = value - this.level;
    const size = Math.abs(jump);
    const always = this.room();
    const drifted = Math.min(elapsedH, intervalH) + WAITING_DRIFT_SHARE * Math.max(0, elapsedH - intervalH);
    if (size <= always + perH * drifted) return this.believe(atMs, value);
    const watering = waterings !== undefined && (jump > 0 || waterings.eitherWay);
    if (watering && (size <= always + waterings.perH * drifted || intervalH > RISE_WITHIN_H))
      return this.rise(atMs, value);
    if (this.wasFalseRise(value, always)) return this.believe(atMs, value);
    return this.wait(atMs, value, jump, watering);
  }

  /** How far a reading may stand from the last believed one at any time. */
  private room(): number {
    const { step, stepShare } = this.settings;
    const usual = step + stepShare * Math.abs(this.level);
    return Math.min(MOST_ROOM * usual, Math.max(usual, NOISE_STEPS * this.meanStep));
  }

  private wait(atMs: number, value: number, jump: number, watering: boolean): JumpVerdict {
    const agrees = this.pendingCount > 0 && jump / this.pendingJump >= AGREES_SHARE;
    if (agrees) this.pendingCount += 1;
    else {
      this.pendingCount = 1;
      this.pendingSinceMs = atMs;
      this.pendingJump = jump;
    }
    if (this.pendingCount >= this.readingsNeeded(atMs, watering))
      return watering ? this.rise(atMs, value) : this.believe(atMs, value);
    if (!watering) return Math.abs(jump) > this.settings.failStep ? 'spike-fail' : 'spike';
    return 'rise-unconfirmed';
  }

  /** How many readings in a row make a new level; Infinity while it is too soon for any. */
  private readingsNeeded(atMs: number, watering: boolean): number {
    if (watering || atMs <= this.settlingUntilMs) return CONFIRMED_AT;
    const { confirmReadings, confirmAfterH } = this.settings;
    const waitedH = (atMs - this.pendingSinceMs) / MS_PER_HOUR;
    return waitedH >= confirmAfterH ? confirmReadings : Number.POSITIVE_INFINITY;
  }

  /** Back where it came from, right after a rise. */
  private wasFalseRise(value: number, slack: number): boolean {
    return this.readingsSinceRise <= FALSE_RISE_READINGS && Math.abs(value - this.homeLevel) <= slack;
  }

  private rise(atMs: number, value: number): JumpVerdict {
    if (this.readingsSinceRise > FALSE_RISE_READINGS) this.homeLevel = this.level;
    this.readingsSinceRise = 0;
    this.settlingUntilMs = atMs + SETTLING_H * MS_PER_HOUR;
    return this.believe(atMs, value);
  }

  private believe(atMs: number, value: number): JumpVerdict {
    const step = Math.min(Math.abs(value - this.level), this.settings.step);
    if (step >= 0) this.meanStep += NOISE_WEIGHT * (step - this.meanStep);
    this.level = value;
    this.levelAtMs = atMs;
    this.pendingCount = 0;
    this.readingsSinceRise += 1;
    return 'pass';
  }
}
