import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import { quickNormalQuantile } from '../../numbers/normal.js';
import { HORIZON_H } from '../climate/member-draws.js';
import {
  BAND_ENDS_H,
  bandOf,
  conformalStep,
  LEAST_SCORED_FALL,
  SCORED_LEADS_H,
} from '../climate/spread-score.js';
import { TENTHS } from '../model/tray-forecast.js';
import { EXPERTS, hoursToFall, LONGEST_H } from './expert-falls.js';
import type { SeenReading } from './reading-course.js';

/** What the experts and the block model foretold from a reading, waiting to be seen. */
export interface WaitingFalls {
  readonly atMs: number;
  readonly reading: number;
  /** Falls after each of `KNOTS_H`, expert by expert, and by the block model from its own water content. */
  readonly byExpert: readonly Float64Array[];
  readonly byModel: Float64Array;
  scoredLeadH: number;
}

/** How well each expert has foretold its probe's readings, in the log of hours. */
export interface ExpertScores {
  waiting: WaitingFalls[];
  readonly logWeight: Float64Array;
  /** Log of the factor on the half-width, per band of hours foretold. */
  readonly logWidth: Float64Array;
}

/** Leads at which what was foretold is kept, h: every hour at first, then a quarter of the lead apart. */
const KNOTS_H: readonly number[] = (() => {
  const knots = [0];
  for (let lead = 1; lead < HORIZON_H; lead += Math.max(1, Math.floor(lead / 4))) knots.push(lead);
  return [...knots, HORIZON_H];
})();
/** A truth of less than this counts as this, m³/m³. */
const LEAST_SEEN_FALL = 0.004;
/** Loss of log weight per unit of error in log hours, the most that one error counts, and what is kept from score to score. */
const WEIGHT = { learning: 0.15, most: 2, keeps: 0.993 } as const;

export function newExpertScores(): ExpertScores {
  return {
    waiting: [],
    logWeight: new Float64Array(EXPERTS.length),
    logWidth: new Float64Array(BAND_ENDS_H.length),
  };
}

/** Rounds the log of hours off near zero. */
const ROUNDED_OFF_H = 0.5;

/** Hours on the scale on which forecasts are joined and judged: natural log, rounded off near zero. */
export function logHours(hours: number): number {
  return Math.log(Math.min(LONGEST_H, hours) + ROUNDED_OFF_H);
}

export function hoursOfLog(value: number): number {
  return Math.max(0, Math.exp(value) - ROUNDED_OFF_H);
}

/** Weights of the experts, summing to 1. */
export function expertWeights({ logWeight }: ExpertScores): Float64Array {
  const most = Math.max(...logWeight);
  const weights = logWeight.map((value) => Math.exp(value - most));
  const sum = weights.reduce((total, value) => total + value, 0);
  return weights.map((value) => value / sum);
}

/** The experts' joint word on how long a fall takes: middle and half-width (to p10 and p90) of the log of hours. */
export interface JointWord {
  readonly middle: number;
  readonly halfWidth: number;
}

export const TO_P90 = quickNormalQuantile(TENTHS.p90);
/** Sd of one expert's error in log hours before it is known. */
const OWN_SD = 0.42;

export function jointWord(scores: ExpertScores, hours: readonly number[]): JointWord {
  const weights = expertWeights(scores);
  const logs = hours.map(logHours);
  let middle = 0;
  let variance = 0;
  logs.forEach((value, i) => {
    middle += (weights[i] as number) * value;
  });
  logs.forEach((value, i) => {
    variance += (weights[i] as number) * (value - middle) ** 2;
  });
  const width = scores.logWidth[bandOf(hoursOfLog(middle))] as number;
  return {
    middle,
    halfWidth: TO_P90 * Math.sqrt(OWN_SD ** 2 + variance) * Math.exp(width),
  };
}

/** Falls are kept to this part of a m³/m³. */
const KEPT_PARTS = 1e5;

/** Keeps what is foretold from this reading. Falls hour by hour, as of `expertFalls`. */
export function keepForetold(
  scores: ExpertScores,
  { atMs, reading }: SeenReading,
  byExpert: readonly Float64Array[],
  byModel: Float64Array,
): void {
  const rounded = (fall: number): number => Math.round(fall * KEPT_PARTS) / KEPT_PARTS;
  const atKnots = (falls: Float64Array): Float64Array =>
    Float64Array.from(KNOTS_H, (lead) => rounded(falls[lead] as number));
  scores.waiting = scores.waiting.filter(
    (one) => atMs - one.atMs <= (Math.max(...SCORED_LEADS_H) + 1) * MS_PER_HOUR,
  );
  scores.waiting.push({
    atMs,
    reading,
    byExpert: byExpert.map(atKnots),
    byModel: atKnots(byModel),
    scoredLeadH: 0,
  });
}

/** Falls hour by hour again from their knots. */
function hourlyFalls(atKnots: Float64Array): Float64Array {
  const falls = new Float64Array(HORIZON_H + 1);
  for (let knot = 1; knot < KNOTS_H.length; knot++) {
    const [from, to] = [KNOTS_H[knot - 1] as number, KNOTS_H[knot] as number];
    const [low, high] = [atKnots[knot - 1] as number, atKnots[knot] as number];
    for (let lead = from + 1; lead <= to; lead++)
      falls[lead] = low + ((high - low) * (lead - from)) / (to - from);
  }
  return falls;
}

/** Error of a foretelling that came due, in the log of hours: what the block model, and the experts together, missed by. */
export interface Miss {
  readonly byModel: number;
  readonly byExperts: number;
}

/** Scores what a reading shows of the falls foretold for it, of any depth; a new dry-down strikes out all that wait. */
export function scoreReading(scores: ExpertScores, seen: SeenReading): Miss[] {
  const misses: Miss[] = [];
  for (const waiting of scores.waiting) {
    const leadH = Math.round((seen.atMs - waiting.atMs) / MS_PER_HOUR);
    if (!SCORED_LEADS_H.some((scored) => scored === leadH) || waiting.scoredLeadH === leadH) continue;
    // kept by a version with other knots: gone within a day
    if (waiting.byModel.length !== KNOTS_H.length) continue;
    waiting.scoredLeadH = leadH;
    const byExpert = waiting.byExpert.map(hourlyFalls);
    const fell = waiting.reading - seen.reading;
    const foretold = byExpert.reduce((sum, falls) => sum + (falls[leadH] as number), 0) / byExpert.length;
    if (Math.max(fell, foretold) < LEAST_SCORED_FALL) continue;
    const fall = Math.max(fell, LEAST_SEEN_FALL);
    const truth = logHours(leadH);
    const hours = byExpert.map((falls) => hoursToFall(falls, fall));
    const joint = jointWord(scores, hours);
    hours.forEach((one, i) => {
      const off = Math.min(Math.abs(truth - logHours(one)), WEIGHT.most);
      scores.logWeight[i] = (scores.logWeight[i] as number) - WEIGHT.learning * off;
    });
    const band = bandOf(hoursOfLog(joint.middle));
    const inside = Math.abs(truth - joint.middle) <= joint.halfWidth;
    scores.logWidth[band] = conformalStep(scores.logWidth[band] as number, inside);
    misses.push({
      byModel: Math.abs(truth - logHours(hoursToFall(hourlyFalls(waiting.byModel), fall))),
      byExperts: Math.abs(truth - joint.middle),
    });
  }
  const most = Math.max(...scores.logWeight);
  scores.logWeight.forEach((value, i) => {
    scores.logWeight[i] = WEIGHT.keeps * (value - most);
  });
  return misses;
}
