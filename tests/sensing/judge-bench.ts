import type { ProbeConfig } from '../../shared/config/kit/probes.js';
import type { Flag } from '../../shared/facts/reading.js';
import type { ProbeJudge } from '../../src/sensing/probe-judge.js';

export const MINUTE_MS = 60_000;
export const HOUR_MS = 60 * MINUTE_MS;
export const START_MS = Date.parse('2026-04-18T06:00:00Z');

export const MOISTURE: ProbeConfig = {
  id: 'moist-t1',
  kind: 'block-moisture',
  tray: 't1',
  calibration: [
    { volts: 2.21, waterContentM3PerM3: 0.155 },
    { volts: 1.33, waterContentM3PerM3: 0.581 },
  ],
};
export const RAW_MOISTURE: ProbeConfig = { id: 'moist-t2', kind: 'block-moisture', tray: 't2' };
export const TEMPERATURE: ProbeConfig = { id: 'temp-south', kind: 'air-temperature', bench: 'south' };
export const HUMIDITY: ProbeConfig = { id: 'rh-south', kind: 'relative-humidity', bench: 'south' };
export const LIGHT: ProbeConfig = { id: 'light-south', kind: 'light', bench: 'south', unit: 'lx' };
export const WEIGHT: ProbeConfig = { id: 'scale-t1', kind: 'tray-weight', tray: 't1' };

/** Volts of the calibrated probe at a water content. */
export function volts(waterContentM3PerM3: number): number {
  return 1.33 + ((0.581 - waterContentM3PerM3) * 0.88) / 0.426;
}

export function converted(value: number): number {
  return Math.round((value * 1023) / 5) * (5 / 1023);
}

export interface Seen {
  readonly flag: Flag;
  readonly reasons: readonly string[];
}

export function run(
  judge: ProbeJudge,
  values: readonly (number | undefined)[],
  cadenceMs: number,
  expectedPerReading?: number,
): Seen[] {
  return values.map((value, i) => judge.judge(START_MS + i * cadenceMs, value, expectedPerReading));
}

/** A dry-down of `hours` from `from` to `to`, with one converter step of flicker. */
export function dryDown(from: number, to: number, hours: number, cadenceMs: number): number[] {
  const count = Math.floor((hours * HOUR_MS) / cadenceMs);
  return Array.from({ length: count }, (_, i) =>
    converted(volts(from + ((to - from) * i) / count) + 0.004 * Math.sin(i * 12.9898)),
  );
}

export function flagged(seen: readonly Seen[]): Seen[] {
  return seen.filter(({ flag }) => flag !== 1);
}

/** Normal scatter from a seed (linear congruential, Box–Muller): the same every time. */
export function scatterFrom(seed: number): { uniform: () => number; normal: () => number } {
  let state = seed;
  const uniform = (): number => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
  return {
    uniform,
    normal: () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform()),
  };
}
