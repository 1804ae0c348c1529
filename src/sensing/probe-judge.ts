import type { ProbeConfig } from '../../shared/config/kit/probes.js';
import type { Flag } from '../../shared/facts/reading.js';
import { type Calibration, createCalibration } from './calibration/calibration.js';
import {
  AIR_TEMPERATURE,
  type BenchSettings,
  BLOCK_MOISTURE_CALIBRATED,
  BLOCK_MOISTURE_RAW,
  LIGHT_LUX,
  LIGHT_W_PER_M2,
  RELATIVE_HUMIDITY,
  trayWeightSettings,
} from './quality/bench-settings.js';
import { FlatWatch } from './quality/flat-watch.js';
import { grossRangeFlag } from './quality/gross-range.js';
import { JumpWatch } from './quality/jump-watch.js';
import { HealthWatch, type ProbeHealth } from './quality/probe-health.js';
import { REASON_BITS, type ReasonCode, reasonsOf } from './quality/reasons.js';

/** What the quality tests say of one reading, with its conversion. */
export interface ProbeJudgement {
  readonly flag: Flag;
  /** The tests that did not pass; empty on flag 1. */
  readonly reasons: readonly ReasonCode[];
  readonly waterContentM3PerM3: number | undefined;
  readonly calibrationId: string | undefined;
}

/** A voltage further beyond the points than this share of their span is hardly moisture (judgement). */
const FAR_BEYOND_SHARE = 0.6;

/**
 * Judges one probe's readings as they come: flag, reasons, water content where it is calibrated. Never looks ahead,
 * keeps constant memory, and never drops or changes a value. One judge per probe, readings in the order of time.
 */
export class ProbeJudge {
  private readonly jump: JumpWatch | undefined;
  private readonly flat: FlatWatch;
  private readonly watch = new HealthWatch();
  private lastAtMs = Number.NEGATIVE_INFINITY;
  private flag: Flag = 1;
  private bits = 0;

  constructor(
    private readonly settings: BenchSettings,
    private readonly calibration?: Calibration,
  ) {
    this.jump = settings.jump && new JumpWatch(settings.jump);
    this.flat = new FlatWatch(settings.flat);
  }

  /**
   * `rawValue` absent: the probe did not answer. `expectedDryingM3PerM3`: the least that the witness block should
   * have lost since the last reading, as the climate says; decides whether a flat line is a stuck probe.
   */
  judge(
    observedAtMs: number,
    rawValue: number | undefined,
    expectedDryingM3PerM3?: number | undefined,
  ): ProbeJudgement {
    this.flag = 1;
    this.bits = 0;
    let waterContentM3PerM3: number | undefined;
    if (rawValue === undefined) this.speak(9, REASON_BITS['no-answer']);
    else if (!Number.isFinite(rawValue)) this.speak(9, REASON_BITS['not-a-number']);
    else {
      waterContentM3PerM3 = this.calibration?.waterContentM3PerM3(rawValue);
      this.judgeValue(observedAtMs, rawValue, waterContentM3PerM3 ?? rawValue, expectedDryingM3PerM3);
    }
    this.watch.note(observedAtMs, this.flag, this.bits);
    return {
      flag: this.flag,
      reasons: reasonsOf(this.bits),
      waterContentM3PerM3,
      calibrationId: this.calibration?.id,
    };
  }

  /** Can this probe be trusted at `nowMs`? */
  health(nowMs: number): ProbeHealth {
    return this.watch.health(nowMs);
  }

  private judgeValue(atMs: number, raw: number, judged: number, expectedDrying: number | undefined): void {
    this.judgeRange(raw);
    if (atMs < this.lastAtMs) {
      if (this.flag === 1) this.flag = 2;
      this.bits |= REASON_BITS['out-of-order'];
      return;
    }
    this.lastAtMs = atMs;
    if (this.flag === 4) return;
    const jump = this.jump?.judge(atMs, judged) ?? 'pass';
    if (jump !== 'pass') {
      this.speak(jump === 'spike-fail' ? 4 : 3, REASON_BITS[jump === 'spike-fail' ? 'spike' : jump]);
      return;
    }
    const flat = this.flat.judge(atMs, raw, judged, expectedDrying);
    if (flat !== 'pass') this.speak(3, REASON_BITS[flat]);
  }

  private judgeRange(raw: number): void {
    const range = grossRangeFlag(raw, this.settings.range);
    if (range !== 1) this.speak(range, REASON_BITS['gross-range']);
    const beyond = this.calibration?.beyondShare(raw) ?? 0;
    if (beyond > FAR_BEYOND_SHARE) this.speak(3, REASON_BITS['far-beyond-calibration']);
    if (beyond > 0) this.speak(3, REASON_BITS['beyond-calibration']);
  }

  private speak(flag: Flag, bit: number): void {
    if (flag > this.flag) this.flag = flag;
    this.bits |= bit;
  }
}

/** The judge for a configured probe. Throws RangeError when its calibration points allow no curve. */
export function createProbeJudge(probe: ProbeConfig): ProbeJudge {
  switch (probe.kind) {
    case 'air-temperature':
      return new ProbeJudge(AIR_TEMPERATURE);
    case 'relative-humidity':
      return new ProbeJudge(RELATIVE_HUMIDITY);
    case 'light':
      return new ProbeJudge(probe.unit === 'lx' ? LIGHT_LUX : LIGHT_W_PER_M2);
    case 'block-moisture':
      return probe.calibration === undefined
        ? new ProbeJudge(BLOCK_MOISTURE_RAW)
        : new ProbeJudge(BLOCK_MOISTURE_CALIBRATED, createCalibration(probe.calibration));
    case 'tray-weight':
      return new ProbeJudge(trayWeightSettings(probe.emptyTrayG));
  }
}
