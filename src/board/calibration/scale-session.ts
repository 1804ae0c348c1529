import { z } from 'zod';
import { idSchema, instantSchema } from '../../../shared/base/ids.js';
import { MS_PER_MIN } from '../../../shared/base/time-units.js';

const pointSchema = z.strictObject({
  step: z.enum(['empty', 'loaded', 'later']),
  at: instantSchema,
  counts: z.number(),
  loadG: z.number().min(0),
});
export type ScalePoint = z.infer<typeof pointSchema>;

/** Calibration of a tray scale under way: empty, with a known weight, and optionally the same weight much later. */
export const scaleSessionSchema = z.strictObject({ probe: idSchema, points: z.array(pointSchema) });
export type ScaleSession = z.infer<typeof scaleSessionSchema>;

/** A weight below this calibrates the scale's noise, not the scale. */
const leastLoadG = 200;
const leastCounts = 2_000;
/** Creep needs this long to show (OIML R 60 tests it over 30 minutes). */
const creepWaitMin = 20;
/** What is left to creep after the wait, with the usual time constant. */
const usualTimeConstantMin = 20;
const mostCreepShare = 0.01;

export type ScaleTaken =
  | { readonly kind: 'taken'; readonly session: ScaleSession }
  | { readonly kind: 'refused'; readonly reason: string };

/** @param weight how the farm writes a weight */
export function takeScalePoint(
  session: ScaleSession,
  point: ScalePoint,
  weight: (g: number) => string,
): ScaleTaken {
  const reason = objection(session, point, weight);
  return reason === undefined
    ? { kind: 'taken', session: { ...session, points: [...session.points, point] } }
    : { kind: 'refused', reason };
}

function objection(
  { points }: ScaleSession,
  point: ScalePoint,
  weight: (g: number) => string,
): string | undefined {
  const empty = points.find(({ step }) => step === 'empty');
  const loaded = points.find(({ step }) => step === 'loaded');
  switch (point.step) {
    case 'empty':
      return empty === undefined ? undefined : 'the empty scale was read already; start again with --restart';
    case 'loaded':
      if (empty === undefined) return 'read the empty scale first';
      if (loaded !== undefined) return 'a weight was read already; start again with --restart';
      if (point.loadG < leastLoadG)
        return `${weight(point.loadG)} is too little; take ${weight(leastLoadG)} or more`;
      return Math.abs(point.counts - empty.counts) < leastCounts
        ? `the scale moved by ${Math.abs(point.counts - empty.counts)} counts only: is the weight on it, and can the plate move?`
        : undefined;
    case 'later': {
      if (empty === undefined || loaded === undefined) return 'read the empty scale and the weight first';
      const waitedMin = (Date.parse(point.at) - Date.parse(loaded.at)) / MS_PER_MIN;
      if (waitedMin < creepWaitMin)
        return `wait ${Math.ceil(creepWaitMin - waitedMin)} minutes more with the weight on the scale`;
      const share = (point.counts - loaded.counts) / (loaded.counts - empty.counts);
      return Math.abs(share) > mostCreepShare
        ? `the scale shows ${(share * 100).toFixed(1)} % more than before, which is not creep: did something touch it?`
        : undefined;
    }
  }
}

export interface ScaleResult {
  readonly zeroCounts: number;
  readonly countsPerG: number;
  readonly creep?: { readonly share: number; readonly timeConstantMin: number };
}

/** Zero, span and creep; undefined before the weight was read. */
export function scaleResult({ points }: ScaleSession): ScaleResult | undefined {
  const empty = points.find(({ step }) => step === 'empty');
  const loaded = points.find(({ step }) => step === 'loaded');
  const later = points.find(({ step }) => step === 'later');
  if (empty === undefined || loaded === undefined) return undefined;
  const result = {
    zeroCounts: Math.round(empty.counts),
    countsPerG: Number(((loaded.counts - empty.counts) / loaded.loadG).toPrecision(6)),
  };
  if (later === undefined) return result;
  const waitedMin = (Date.parse(later.at) - Date.parse(loaded.at)) / MS_PER_MIN;
  const soFar = (later.counts - loaded.counts) / (loaded.counts - empty.counts);
  const share = Math.max(0, soFar / (1 - Math.exp(-waitedMin / usualTimeConstantMin)));
  return { ...result, creep: { share: Number(share.toPrecision(3)), timeConstantMin: usualTimeConstantMin } };
}
