import type { CalibrationPoint } from '../../../shared/config/kit/probes.js';
import { calibrationId } from './calibration-id.js';
import { calibrationLevels } from './calibration-points.js';
import { chooseCurve } from './choose-curve.js';

/** A converted reading. */
export interface CalibratedReading {
  readonly waterContentM3PerM3: number;
  /** Residual of the calibration, and beyond its ends how far the curve was carried on. */
  readonly sdM3PerM3: number;
  /** True when the voltage lies beyond the points: to be flagged suspect. */
  readonly beyond: boolean;
}

/** How the probe's voltage drifts with temperature: volts are referred to `referenceC` before the curve is used. */
export interface TemperatureCompensation {
  readonly voltsPerK: number;
  readonly referenceC: number;
}

/** Volts of one block-moisture probe to water content, strictly monotone between and beyond its points. */
export interface Calibration {
  /** Stable hash of the points. */
  readonly id: string;
  readonly residualSdM3PerM3: number;
  /** True when the voltage falls as the block gets wetter. */
  readonly fallsWithWetness: boolean;
  readonly driestVolts: number;
  readonly wettestVolts: number;
  readonly driestM3PerM3: number;
  readonly wettestM3PerM3: number;
  waterContent(volts: number, temperatureC?: number): CalibratedReading;
  /** Water content alone; no object is made. */
  waterContentM3PerM3(volts: number): number;
  /** m³/m³ per volt at this voltage (negative when it falls with wetness); what a volt of noise is worth. */
  slopeM3PerM3PerV(volts: number): number;
  /** How far beyond the points this voltage lies, as a share of their span; 0 within. */
  beyondShare(volts: number): number;
  /** The voltage at which the probe reads this water content; held at the carried-on ends. */
  volts(waterContentM3PerM3: number): number;
}

/** Beyond its ends the curve is carried on by at most this share of its span, then held. */
export const CARRIED_ON_SHARE = 0.2;
/** Of what was added by carrying the curve on, this share may be wrong (judgement). */
const CARRIED_ON_DOUBT = 0.5;
const INVERSE_BISECTIONS = 52;

function clampShare(content: number): number {
  return Math.min(1, Math.max(0, content));
}

/**
 * Calibration from two gravimetric points or more in any order; choose-curve says which curve. Throws RangeError with
 * what to do when no curve fits; `calibrationLevels` tells the same as a value.
 */
export function createCalibration(
  points: readonly CalibrationPoint[],
  compensation?: TemperatureCompensation,
): Calibration {
  const ordered = calibrationLevels(points);
  if (!ordered.ok) throw new RangeError(`cannot calibrate: ${ordered.problem.message}`);
  const { direction, x: xs, waterContentM3PerM3: ys } = ordered;
  const chosen = chooseCurve(xs, ys);
  if (chosen === undefined) throw new RangeError('cannot calibrate: no rising curve fits the points');
  const { curve, residualSdM3PerM3 } = chosen;
  const driestX = xs[0] ?? 0;
  const wettestX = xs.at(-1) ?? 0;
  const span = wettestX - driestX;
  const reach = CARRIED_ON_SHARE * span;
  const lowX = driestX - reach;
  const highX = wettestX + reach;
  const content = (x: number): number => clampShare(curve.valueAt(Math.min(highX, Math.max(lowX, x))));
  const driestM3PerM3 = content(driestX);
  const wettestM3PerM3 = content(wettestX);
  const referred = (volts: number, temperatureC: number | undefined): number =>
    compensation === undefined || temperatureC === undefined
      ? volts
      : volts - compensation.voltsPerK * (temperatureC - compensation.referenceC);

  return {
    id: calibrationId(points),
    residualSdM3PerM3,
    fallsWithWetness: direction === -1,
    driestVolts: direction * driestX,
    wettestVolts: direction * wettestX,
    driestM3PerM3,
    wettestM3PerM3,
    waterContent(volts, temperatureC) {
      const x = direction * referred(volts, temperatureC);
      const waterContentM3PerM3 = content(x);
      if (x >= driestX && x <= wettestX)
        return { waterContentM3PerM3, sdM3PerM3: residualSdM3PerM3, beyond: false };
      const end = x < driestX ? driestM3PerM3 : wettestM3PerM3;
      const carriedOn = curve.slopeAt(x) * Math.max(driestX - x, x - wettestX);
      return {
        waterContentM3PerM3,
        sdM3PerM3: Math.hypot(
          residualSdM3PerM3,
          CARRIED_ON_DOUBT * Math.max(Math.abs(waterContentM3PerM3 - end), Math.min(carriedOn, 1)),
        ),
        beyond: true,
      };
    },
    waterContentM3PerM3: (volts) => content(direction * volts),
    slopeM3PerM3PerV(volts) {
      const x = direction * volts;
      return x < lowX || x > highX ? 0 : direction * curve.slopeAt(x);
    },
    beyondShare(volts) {
      const x = direction * volts;
      return x < driestX ? (driestX - x) / span : x > wettestX ? (x - wettestX) / span : 0;
    },
    volts(waterContentM3PerM3) {
      let low = lowX;
      let high = highX;
      if (waterContentM3PerM3 <= content(low)) return direction * low;
      if (waterContentM3PerM3 >= content(high)) return direction * high;
      for (let i = 0; i < INVERSE_BISECTIONS; i++) {
        const middle = (low + high) / 2;
        if (content(middle) < waterContentM3PerM3) low = middle;
        else high = middle;
      }
      return (direction * (low + high)) / 2;
    },
  };
}
