import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { ProbeTrace } from '../filter/probe-state.js';

/** Hours of steps that a trace keeps. */
const TRACE_H = 8;
/** A rise is sought within this time, h: a pour is quick at first even in a large block, drift and warmth are not. */
const RISE_WINDOW_H = 1.25;
/** With a slow cadence the window holds at least this many steps. */
const LEAST_STEPS = 3;
/** Least rise that counts as a pour, in water content, m³/m³: less cannot be told from a probe's own wandering. */
const LEAST_RISE_M3PERM3 = 0.035;
/** The rise must exceed the probe's own roughness by this factor. */
const ROUGHNESS_FACTOR = 7;
/** What a probe may rise by warmth alone, m³/m³ per K. */
const WARMTH_M3PERM3_PER_K = 0.0025;
const ROUGHNESS_LEARNING = 0.03;
/** No step counts for more than this, m³/m³, or than so many times the roughness so far: pours are not noise. */
const FIRST_ROUGHNESS_M3PERM3 = 0.006;
const MOST_STEP = 4;

export interface Rise {
  /** Best estimate of the pour's time. */
  readonly startedAtMs: number;
  /** Wetness before the rise, when that was read, and how far it has risen; unit of the trace. */
  readonly before: number;
  readonly beforeAtMs: number;
  readonly risen: number;
}

/** `unitsPerWater`: reading units per m³/m³. */
export function addToTrace(
  trace: ProbeTrace,
  atMs: number,
  wetness: number,
  temperatureC: number,
  unitsPerWater: number,
): void {
  const last = trace.wetness[trace.wetness.length - 1];
  if (last !== undefined) learnRoughness(trace, wetness - last, unitsPerWater);
  trace.atMs.push(atMs);
  trace.wetness.push(wetness);
  trace.temperatureC.push(temperatureC);
  const oldest = atMs - TRACE_H * MS_PER_HOUR;
  while (trace.atMs.length > LEAST_STEPS + 1 && (trace.atMs[0] ?? atMs) < oldest) {
    trace.atMs.shift();
    trace.wetness.shift();
    trace.temperatureC.shift();
  }
}

/**
 * Noise goes up as often as down, drying only down: twice the mean rise from reading to reading is a probe's roughness
 * at any cadence, where the mean change would take three hours of drying for noise. A pour counts as a large step.
 */
function learnRoughness(trace: ProbeTrace, change: number, unitsPerWater: number): void {
  const most = Math.max(FIRST_ROUGHNESS_M3PERM3 * unitsPerWater, MOST_STEP * trace.roughness);
  const rise = Math.min(2 * Math.max(0, change), most);
  trace.roughness += Math.max(ROUGHNESS_LEARNING, 1 / (trace.steps + 1)) * (rise - trace.roughness);
  trace.steps++;
}

export function clearTrace(trace: ProbeTrace): void {
  trace.atMs.length = 0;
  trace.wetness.length = 0;
  trace.temperatureC.length = 0;
}

/**
 * A rise that only a pour explains: both of the last two steps stand clearly above the lowest step of the window before
 * them, by more than noise and warmth can do. Undefined when there is none.
 *
 * `unitsPerWater`: reading units per m³/m³. `stepH`: length of a step, to place the pour within it.
 */
export function findRise(trace: ProbeTrace, unitsPerWater: number, stepH: number): Rise | undefined {
  const last = trace.wetness.length - 1;
  if (last + 1 < LEAST_STEPS) return undefined;
  const lowest = lowestBefore(trace, last - 2, RISE_WINDOW_H);
  if (lowest < 0) return undefined;
  const before = trace.wetness[lowest] as number;
  const risen = confirmedRise(trace, before);
  if (risen < neededRise(trace, lowest, unitsPerWater)) return undefined;
  let first = lowest + 1;
  while (first < last && (trace.wetness[first] as number) - before < 0.2 * risen) first++;
  const from = trace.atMs[first - 1] as number;
  const to = trace.atMs[first] as number;
  return {
    startedAtMs: Math.max(from, to - stepH * MS_PER_HOUR),
    before,
    beforeAtMs: trace.atMs[lowest] as number,
    risen,
  };
}

/** Between readings further apart than the window a filled block dries or drains by up to this share of its rise. */
const KEPT_SHARE = 0.5;

/** How far the last two steps both stand above `before`; the first of them alone where the second is hours later. */
function confirmedRise(trace: ProbeTrace, before: number): number {
  const last = trace.wetness.length - 1;
  const shown = (trace.wetness[last - 1] as number) - before;
  const kept = (trace.wetness[last] as number) - before;
  const hoursApart = ((trace.atMs[last] as number) - (trace.atMs[last - 1] as number)) / MS_PER_HOUR;
  const bothShow = shown > 0 && kept >= KEPT_SHARE * shown;
  return hoursApart > RISE_WINDOW_H && bothShow ? Math.max(shown, kept) : Math.min(shown, kept);
}

const SUSPECT_SHARE = 0.5;

/**
 * True while the last reading stands so far above the recent lowest that it may be the start of a pour: not to be
 * believed as a dry block's reading until `findRise` has decided.
 */
export function mayBeRising(trace: ProbeTrace, unitsPerWater: number): boolean {
  const last = trace.wetness.length - 1;
  const lowest = lowestBefore(trace, last - 1, RISE_WINDOW_H);
  if (lowest < 0) return false;
  const risen = (trace.wetness[last] as number) - (trace.wetness[lowest] as number);
  return risen > SUSPECT_SHARE * neededRise(trace, lowest, unitsPerWater);
}

function lowestBefore(trace: ProbeTrace, from: number, windowH: number): number {
  const last = trace.wetness.length - 1;
  const nowMs = trace.atMs[last] ?? 0;
  const windowMs = windowH * MS_PER_HOUR;
  let lowest = -1;
  for (let i = from; i >= 0; i--) {
    if (nowMs - (trace.atMs[i] as number) > windowMs && last - i > LEAST_STEPS) break;
    if (lowest < 0 || (trace.wetness[i] as number) < (trace.wetness[lowest] as number)) lowest = i;
  }
  return lowest;
}

function neededRise(trace: ProbeTrace, lowest: number, unitsPerWater: number): number {
  const last = trace.wetness.length - 1;
  const warmth = Math.abs((trace.temperatureC[last] as number) - (trace.temperatureC[lowest] as number));
  return (
    Math.max(LEAST_RISE_M3PERM3 * unitsPerWater, ROUGHNESS_FACTOR * trace.roughness) +
    WARMTH_M3PERM3_PER_K * warmth * unitsPerWater
  );
}
