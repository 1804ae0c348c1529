import type { CalibrationPoint } from '../../../shared/config/kit/probes.js';
import { createCalibration } from '../../sensing/calibration/calibration.js';
import { calibrationLevels } from '../../sensing/calibration/calibration-points.js';
import { blockMl, type MoistureSession } from './moisture-session.js';

/** Density of water, g/mL, at the temperatures of a bench (0.997 at 25 °C; a kitchen scale can't tell). */
const waterGPerMl = 1;

/** One weighing as a point of the curve. */
export interface FittedPoint extends CalibrationPoint {
  /** What the curve makes of this voltage, less the weighed value. */
  readonly residualM3PerM3: number;
  /** The same when this point is left out of the fit; undefined at the ends and with too few points. */
  readonly leftOutM3PerM3: number | undefined;
}

export type MoistureFit =
  | {
      readonly kind: 'fit';
      readonly points: readonly CalibrationPoint[];
      readonly fitted: readonly FittedPoint[];
      readonly residualRmsM3PerM3: number;
      /** The worst of the left-out residuals: what to expect between two weighings. */
      readonly worstLeftOutM3PerM3: number | undefined;
    }
  | { readonly kind: 'no-fit'; readonly reason: string };

/**
 * Water content of each weighing: (mass − dry mass) / (block volume · density of water), the gravimetric method (ISO
 * 11465 for the dry mass) on the block's fresh volume. Weighings without a voltage only give the dry mass.
 */
export function pointsOf(session: MoistureSession): readonly CalibrationPoint[] {
  const dry = session.weighings.find(({ step }) => step === 'dry');
  if (dry === undefined) return [];
  const volumeMl = blockMl(session.blockSideMm);
  return session.weighings.flatMap(({ scaleG, volts }) =>
    volts === undefined
      ? []
      : [
          {
            volts: round(volts, 4),
            waterContentM3PerM3: round((scaleG - dry.scaleG) / (volumeMl * waterGPerMl), 4),
          },
        ],
  );
}

/** The curve that the monitor will use, and how far the weighings lie from it. */
export function fitMoisture(session: MoistureSession): MoistureFit {
  const points = pointsOf(session);
  if (points.length < 2)
    return { kind: 'no-fit', reason: 'two weighings with a voltage, and the dry weight, are needed' };
  if (points.some(({ waterContentM3PerM3 }) => waterContentM3PerM3 > 1))
    return {
      kind: 'no-fit',
      reason: 'more water than the block has room for: check the tare and the block size',
    };
  const ordered = calibrationLevels(points);
  if (!ordered.ok) return { kind: 'no-fit', reason: ordered.problem.message };
  const curve = createCalibration(points);
  const fitted = points.map((point, index) => ({
    ...point,
    residualM3PerM3: curve.waterContentM3PerM3(point.volts) - point.waterContentM3PerM3,
    leftOutM3PerM3: leftOut(points, index),
  }));
  const squares = fitted.map(({ residualM3PerM3 }) => residualM3PerM3 ** 2);
  const left = fitted.flatMap(({ leftOutM3PerM3 }) =>
    leftOutM3PerM3 === undefined ? [] : [Math.abs(leftOutM3PerM3)],
  );
  return {
    kind: 'fit',
    points,
    fitted,
    residualRmsM3PerM3: Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / squares.length),
    worstLeftOutM3PerM3: left.length > 0 ? Math.max(...left) : undefined,
  };
}

function leftOut(points: readonly CalibrationPoint[], index: number): number | undefined {
  const point = points[index];
  const others = points.filter((_, other) => other !== index);
  const isEnd = index === 0 || index === points.length - 1;
  if (point === undefined || isEnd || others.length < 2 || !calibrationLevels(others).ok) return undefined;
  return createCalibration(others).waterContentM3PerM3(point.volts) - point.waterContentM3PerM3;
}

function round(value: number, digits: number): number {
  return Number(value.toFixed(digits));
}

const stepCount = 9;
const barLetters = 40;

/** The curve and its weighings in plain text: one line for each of some voltages, then one for each weighing. */
export function fitText(fit: Extract<MoistureFit, { kind: 'fit' }>): string {
  const curve = createCalibration(fit.points);
  const lines = Array.from({ length: stepCount }, (_, step) => {
    const volts = curve.wettestVolts + ((curve.driestVolts - curve.wettestVolts) * step) / (stepCount - 1);
    const content = curve.waterContentM3PerM3(volts);
    return `  ${volts.toFixed(3)} V  ${content.toFixed(3)}  ${'#'.repeat(Math.round(content * barLetters))}`;
  });
  const weighings = fit.fitted.map(
    ({ volts, waterContentM3PerM3, residualM3PerM3, leftOutM3PerM3 }) =>
      `  ${volts.toFixed(3)} V  weighed ${waterContentM3PerM3.toFixed(3)}  residual ${signed(residualM3PerM3)}${
        leftOutM3PerM3 === undefined ? '' : `  (from the others alone ${signed(leftOutM3PerM3)})`
      }`,
  );
  return [
    'Curve, m3 of water per m3 of block:',
    ...lines,
    'Weighings:',
    ...weighings,
    `Residual ${fit.residualRmsM3PerM3.toFixed(4)} m3/m3 (root mean square)${
      fit.worstLeftOutM3PerM3 === undefined
        ? ''
        : `; between weighings expect up to ${fit.worstLeftOutM3PerM3.toFixed(3)} m3/m3`
    }.`,
  ].join('\n');
}

function signed(value: number): string {
  return `${value < 0 ? '−' : '+'}${Math.abs(value).toFixed(3)}`;
}
