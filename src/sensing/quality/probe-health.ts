import { MS_PER_HOUR, MS_PER_MIN } from '../../../shared/base/time-units.js';
import type { ProbeTrouble } from '../../../shared/facts/probe-trouble.js';
import type { Flag } from '../../../shared/facts/reading.js';
import { REASON_BITS } from './reasons.js';

/** Can a probe be trusted now? `reason` is a stable code. */
export interface ProbeHealth {
  readonly ok: boolean;
  readonly reason: 'ok' | ProbeTrouble;
}

const OK: ProbeHealth = { ok: true, reason: 'ok' };
const SILENT: ProbeHealth = { ok: false, reason: 'silent' };
const OUT_OF_RANGE: ProbeHealth = { ok: false, reason: 'out-of-range' };
const FLAT_LINE: ProbeHealth = { ok: false, reason: 'flat-line' };
const NOISY: ProbeHealth = { ok: false, reason: 'noisy' };

/** Memory of the flag shares; one reading never weighs more than `LARGEST_WEIGHT`. */
const MEMORY_MS = 30 * MS_PER_MIN;
const LARGEST_WEIGHT = 0.35;
/** A fault is told above the first share and taken back below the second, so that it does not chatter. */
const TELL_SHARE = 0.5;
const CLEAR_SHARE = 0.15;
/** Silent after this many of the probe's own intervals, and never sooner than this. */
const SILENT_INTERVALS = 3.5;
const SILENT_AFTER_MS = 10 * MS_PER_MIN;
/** While its interval is not known yet, a probe that nobody is known to have asked may be quiet this long: QARTOD's default for the reception of data. */
const UNKNOWN_INTERVAL_SILENT_MS = 6 * MS_PER_HOUR;
const KNOWN_AFTER_INTERVALS = 3;
/** Intervals are learned with this weight; a gap must not pass for the cadence. */
const INTERVAL_WEIGHT = 0.1;
const LONGEST_INTERVAL_MS = 4 * MS_PER_HOUR;

const RANGE_BITS = REASON_BITS['gross-range'];
const FLAT_BITS = REASON_BITS['flat-line'] | REASON_BITS.saturated;
const NOISE_BITS = REASON_BITS.spike;

/** A share of recent readings with a fault, told with hysteresis. */
class FaultShare {
  private share = 0;
  private told = false;

  constructor(
    private readonly atLeast: Flag,
    private readonly mask: number,
  ) {}

  note(flag: Flag, bits: number, weight: number): void {
    const fault = flag >= this.atLeast && (bits & this.mask) !== 0 ? 1 : 0;
    this.share += weight * (fault - this.share);
    if (this.share > TELL_SHARE) this.told = true;
    else if (this.share < CLEAR_SHARE) this.told = false;
  }

  isTold(): boolean {
    return this.told;
  }
}

/** Watches the flags of one probe's readings and says whether the probe can be trusted. Constant memory. */
export class HealthWatch {
  private readonly outOfRange = new FaultShare(4, RANGE_BITS);
  private readonly farBeyond = new FaultShare(3, REASON_BITS['far-beyond-calibration']);
  private readonly flat = new FaultShare(3, FLAT_BITS);
  private readonly noisy = new FaultShare(3, NOISE_BITS);
  private lastAnswerMs: number | undefined;
  private firstAskedMs: number | undefined;
  private lastAskedMs = Number.NEGATIVE_INFINITY;
  private intervalMs = 0;
  private intervalCount = 0;

  note(atMs: number, flag: Flag, bits: number): void {
    if (flag === 9) {
      this.firstAskedMs ??= atMs;
      this.lastAskedMs = atMs;
      return;
    }
    const elapsedMs = this.lastAnswerMs === undefined ? 0 : Math.max(0, atMs - this.lastAnswerMs);
    if (this.lastAnswerMs !== undefined) {
      this.intervalCount += 1;
      const interval = Math.min(elapsedMs, LONGEST_INTERVAL_MS);
      this.intervalMs =
        this.intervalMs === 0 ? interval : this.intervalMs + INTERVAL_WEIGHT * (interval - this.intervalMs);
    }
    this.lastAnswerMs = Math.max(atMs, this.lastAnswerMs ?? atMs);
    const weight = Math.min(LARGEST_WEIGHT, 1 - Math.exp(-elapsedMs / MEMORY_MS));
    this.outOfRange.note(flag, bits, weight);
    this.farBeyond.note(flag, bits, weight);
    this.flat.note(flag, bits, weight);
    this.noisy.note(flag, bits, weight);
  }

  health(nowMs: number): ProbeHealth {
    this.firstAskedMs ??= nowMs;
    const since = this.lastAnswerMs ?? this.firstAskedMs;
    if (nowMs - since > this.quietLimitMs(since)) return SILENT;
    if (this.outOfRange.isTold() || this.farBeyond.isTold()) return OUT_OF_RANGE;
    if (this.flat.isTold()) return FLAT_LINE;
    return this.noisy.isTold() ? NOISY : OK;
  }

  /** How long this probe may be quiet: by its own interval, once that is known or it was asked in vain. */
  private quietLimitMs(sinceMs: number): number {
    const askedInVain = this.lastAskedMs > sinceMs;
    if (!askedInVain && this.intervalCount < KNOWN_AFTER_INTERVALS) return UNKNOWN_INTERVAL_SILENT_MS;
    return Math.max(SILENT_AFTER_MS, SILENT_INTERVALS * this.intervalMs);
  }
}
