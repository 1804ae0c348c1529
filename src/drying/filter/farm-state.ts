import { type Calibration, createCalibration } from '../../sensing/calibration/calibration.js';
import { type BenchClimate, newBenchClimate } from '../climate/bench-climate.js';
import { drawMembers, type MemberDraws } from '../climate/member-draws.js';
import { newOutlookSpread, type OutlookSpread } from '../climate/outlook.js';
import { newSpreadScore, type SpreadScore } from '../climate/spread-score.js';
import type { Place } from '../climate/sun.js';
import type { FarmModelSpec, ModelEvent, ProbeSpec } from '../model/farm-model.js';
import {
  benchAir,
  benchCloud,
  benchLean,
  benchSun,
  farmRate,
  knee,
  LINK,
  LINK_COUNT,
  sizeRate,
  sizeSlope,
} from './layout.js';
import type { ProbeState } from './probe-state.js';
import { SharedState } from './shared-state.js';
import type { TrayState } from './tray-state.js';

export interface BenchState {
  readonly id: string;
  readonly airSpeedMPerS: number | undefined;
  readonly climate: BenchClimate;
  readonly spread: OutlookSpread;
}

/** Everything the model remembers; what `snapshot()` keeps. */
export interface FarmMemory {
  shared: SharedState;
  benches: Map<string, BenchState>;
  trays: Map<string, TrayState>;
  /** Probes on a tray now, by probe id. */
  trayOfProbe: Map<string, string>;
  score: SpreadScore;
  /** End of the last step that was run, and the last instant told; undefined before the first call. */
  steppedToMs: number | undefined;
  nowMs: number | undefined;
  pending: ModelEvent[];
  /** A first reading of any probe has come. */
  watching: boolean;
}

/** What the model is given and never changes. */
export interface FarmFrame {
  readonly spec: FarmModelSpec;
  readonly place: Place;
  readonly draws: MemberDraws;
  readonly probeSpecs: ReadonlyMap<string, ProbeSpec>;
  readonly calibrations: ReadonlyMap<string, Calibration>;
}

export interface Farm {
  readonly frame: FarmFrame;
  readonly memory: FarmMemory;
}

export function frameOf(spec: FarmModelSpec): FarmFrame {
  const calibrations = new Map<string, Calibration>();
  for (const probe of spec.probes)
    if (probe.kind === 'block-moisture' && probe.calibration !== undefined)
      calibrations.set(probe.id, createCalibration(probe.calibration));
  return {
    spec,
    place: {
      latitudeDeg: spec.latitudeDeg,
      longitudeDeg: spec.longitudeDeg,
      utcOffsetMin: spec.utcOffsetMin,
    },
    draws: drawMembers(spec.seed),
    probeSpecs: new Map(spec.probes.map((probe) => [probe.id, probe])),
    calibrations,
  };
}

export function newBenchState(spec: FarmModelSpec, benchId: string): BenchState {
  const has = (kind: ProbeSpec['kind']): boolean =>
    spec.probes.some((probe) => probe.kind === kind && 'benchId' in probe && probe.benchId === benchId);
  return {
    id: benchId,
    airSpeedMPerS: spec.benches.find((bench) => bench.id === benchId)?.airSpeedMPerS,
    climate: newBenchClimate(benchId, {
      temperature: has('air-temperature'),
      humidity: has('relative-humidity'),
      light: has('light'),
    }),
    spread: newOutlookSpread(),
  };
}

export function newMemory(spec: FarmModelSpec): FarmMemory {
  return {
    shared: new SharedState(),
    benches: new Map(spec.benches.map((bench) => [bench.id, newBenchState(spec, bench.id)])),
    trays: new Map(),
    trayOfProbe: new Map(),
    score: newSpreadScore(),
    steppedToMs: undefined,
    nowMs: undefined,
    pending: [],
    watching: false,
  };
}

export function benchOf(farm: Farm, benchId: string): BenchState {
  const known = farm.memory.benches.get(benchId);
  if (known !== undefined) return known;
  const bench = newBenchState(farm.frame.spec, benchId);
  farm.memory.benches.set(benchId, bench);
  return bench;
}

/** Heat that mat or pipes give the trays of a bench, W/m². */
export function bottomHeatOf(farm: Farm, benchId: string): number {
  return farm.frame.spec.benches.find(({ id }) => id === benchId)?.bottomHeatWPerM2 ?? 0;
}

export function trayOf(farm: Farm, trayId: string): TrayState {
  const tray = farm.memory.trays.get(trayId);
  if (tray === undefined) throw new RangeError(`there is no tray "${trayId}" in the model`);
  return tray;
}

/** Which shared components a tray of this size on this bench hangs on. */
export function linksOf(farm: Farm, benchId: string, blockSideMm: number): Int32Array {
  const { shared } = farm.memory;
  const bench = benchOf(farm, benchId);
  const hasLight = bench.climate.has.light;
  const links = new Int32Array(LINK_COUNT);
  links[LINK.farmRate] = shared.ensure(farmRate);
  links[LINK.sizeSlope] = shared.ensure(sizeSlope);
  links[LINK.knee] = shared.ensure(knee);
  links[LINK.sizeRate] = shared.ensure(sizeRate(blockSideMm));
  links[LINK.benchAir] = shared.ensure(benchAir(benchId, bench.airSpeedMPerS !== undefined));
  links[LINK.benchSun] = shared.ensure(benchSun(benchId, hasLight));
  links[LINK.benchCloud] = shared.ensure(benchCloud(benchId, hasLight));
  links[LINK.benchLean] = shared.ensure(benchLean(benchId, hasLight));
  return links;
}

export function calibrationOf(farm: Farm, probe: ProbeState): Calibration | undefined {
  return farm.frame.calibrations.get(probe.spec.id);
}
