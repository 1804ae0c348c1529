import { MS_PER_HOUR } from '../../../../shared/base/time-units.js';
import type { Cover } from '../../../../shared/config/trays.js';
import { type BenchAir, createGreenhouseAir, type HousePlan } from './air/greenhouse-air.js';
import { createOutdoorWeather, type WeatherPlan } from './air/outdoor-weather.js';
import { createRandomSource } from './air/random-source.js';
import { type ClimateProbePlan, createClimateProbe } from './probes/climate-probe.js';
import { createMoistureProbe, type MoistureProbePlan } from './probes/moisture-probe.js';
import type { BlockBody } from './trays/block-body.js';
import {
  createTrayBody,
  driestTenthM3PerM3,
  meanBlockM3PerM3,
  missingMl,
  pourInto,
  stepTray,
  type TrayBody,
  type TrayPlan,
} from './trays/tray-body.js';

/** A whole invented farm: its weather, houses, trays, probes. Everything else follows from the seed. */
export interface FarmPlan {
  readonly seed: number;
  readonly startMs: number;
  readonly weather: WeatherPlan;
  readonly benches: readonly { readonly id: string; readonly house: HousePlan; readonly floorM2: number }[];
  readonly trays: readonly {
    readonly tray: TrayPlan;
    readonly benchId: string;
    readonly cover: Cover;
    readonly germinatedAtMs?: number | undefined;
    /** Moisture index at the start, 0 at refill, 1 at capacity. */
    readonly startIndex: number;
  }[];
  readonly climateProbes: readonly ClimateProbePlan[];
  readonly moistureProbes: readonly MoistureProbePlan[];
}

/** The truth about one tray now. */
export interface TrayTruth {
  readonly benchId: string;
  readonly waterContentM3PerM3: number;
  readonly driestTenthM3PerM3: number;
  readonly refillPointM3PerM3: number;
  /** 0 at the refill point, 1 at container capacity. */
  readonly moistureIndex: number;
  /** What its blocks could take up, mL. */
  readonly missingMl: number;
  /** Water is standing in its channels. */
  readonly soaking: boolean;
}

/** Sees the bench run; `BenchHistory` keeps what is needed to say later what would have happened. */
export interface BenchObserver {
  stepped(atMs: number, stepH: number, air: ReadonlyMap<string, BenchAir>): void;
  /** Called before something changes a tray's course: a pour, a cover, a move. */
  interrupted(trayId: string, atMs: number): void;
}

/** The virtual bench: pure, it moves only when stepped. */
export interface VirtualBench {
  readonly plan: FarmPlan;
  nowMs(): number;
  /** Moves on to this instant in steps of `BENCH_STEP_MS`; an earlier instant is a RangeError. */
  step(toMs: number): void;
  /** Raw value of a probe now, in its unit; undefined: no answer. RangeError for an unknown probe. */
  readProbe(probeId: string): number | undefined;
  truth(trayId: string): TrayTruth;
  air(benchId: string): BenchAir;
  /** Bottom-waters a tray; `tipOutAfterH` undefined: nothing is tipped out. */
  pour(trayId: string, ml: number, tipOutAfterH: number | undefined): void;
  setCover(trayId: string, cover: Cover): void;
  moveTray(trayId: string, benchId: string): void;
  /** The tray's own body, for observers. */
  body(trayId: string): { readonly body: TrayBody; readonly benchId: string };
  observe(observer: BenchObserver): void;
}

/** One step of weather, air and blocks. */
export const BENCH_STEP_MS = 300_000;
const STEP_H = BENCH_STEP_MS / MS_PER_HOUR;

function found<T>(value: T | undefined, what: string): T {
  if (value === undefined) throw new RangeError(`the virtual bench has no ${what}`);
  return value;
}

export function createVirtualBench(plan: FarmPlan): VirtualBench {
  const random = createRandomSource(plan.seed);
  const weather = createOutdoorWeather(plan.weather, random.fork('weather'));
  const houses = plan.benches.map((bench) => ({
    ...bench,
    airStep: createGreenhouseAir(bench.house, random.fork(`house ${bench.id}`)),
    vapourG: 0,
  }));
  const air = new Map<string, BenchAir>();
  const trays = new Map<string, { body: TrayBody; benchId: string }>();
  for (const entry of plan.trays) {
    const body = createTrayBody(entry.tray, random.fork(`tray ${entry.tray.id}`));
    body.cover = entry.cover;
    body.germinatedAtMs = entry.germinatedAtMs;
    trays.set(entry.tray.id, { body, benchId: entry.benchId });
  }
  const climate = new Map(
    plan.climateProbes.map((probe) => [
      probe.id,
      createClimateProbe(probe, random.fork(`probe ${probe.id}`)),
    ]),
  );
  const moisture = new Map(
    plan.moistureProbes.map((probe) => {
      const { body } = found(trays.get(probe.trayId), `tray ${probe.trayId}`);
      const capacity = body.plan.medium.containerCapacityM3PerM3 + probe.witnessCapacityOffset;
      const witness: BlockBody = {
        position: probe.witnessOutwardSides,
        weight: 1,
        capacityM3PerM3: capacity,
        lossFactor: probe.witnessLossFactor,
        shellM3PerM3: capacity,
        coreM3PerM3: capacity,
        sheds: false,
      };
      (body.blocks as BlockBody[]).push(witness);
      return [probe.id, { probe: createMoistureProbe(probe, random.fork(`probe ${probe.id}`)), witness }];
    }),
  );
  for (const entry of plan.trays) {
    const { refillPointM3PerM3 } = entry.tray;
    for (const block of found(trays.get(entry.tray.id), 'tray').body.blocks) {
      const start = refillPointM3PerM3 + entry.startIndex * (block.capacityM3PerM3 - refillPointM3PerM3);
      block.shellM3PerM3 = start - 0.01;
      block.coreM3PerM3 = start + 0.005;
    }
  }

  const observers: BenchObserver[] = [];
  let gridMs = plan.startMs;
  let nowMs = plan.startMs;

  const gridStep = (): void => {
    const outdoor = weather(gridMs, STEP_H);
    for (const house of houses) {
      air.set(house.id, house.airStep(outdoor, STEP_H, house.vapourG / house.floorM2));
      house.vapourG = 0;
    }
    for (const { body, benchId } of trays.values()) {
      const given = stepTray(body, found(air.get(benchId), `bench ${benchId}`), gridMs, STEP_H);
      const house = houses.find((one) => one.id === benchId);
      if (house !== undefined) house.vapourG += given * body.plan.trayAreaM2;
    }
    gridMs += BENCH_STEP_MS;
    for (const observer of observers) observer.stepped(gridMs, STEP_H, air);
  };
  gridStep();

  const interrupt = (trayId: string): TrayBody => {
    const { body } = found(trays.get(trayId), `tray ${trayId}`);
    for (const observer of observers) observer.interrupted(trayId, gridMs);
    return body;
  };

  return {
    plan,
    nowMs: () => nowMs,
    step: (toMs) => {
      if (toMs < nowMs)
        throw new RangeError(`the virtual bench is at ${nowMs}; it cannot go back to ${toMs}`);
      while (gridMs + BENCH_STEP_MS <= toMs) gridStep();
      nowMs = toMs;
    },
    readProbe: (probeId) => {
      const soil = moisture.get(probeId);
      if (soil !== undefined) {
        const { body, benchId } = found(trays.get(soil.probe.plan.trayId), 'tray of the probe');
        const { temperatureC } = found(air.get(benchId), `bench ${benchId}`);
        return soil.probe.read(nowMs, soil.witness, temperatureC, body.lastPourAtMs);
      }
      const probe = found(climate.get(probeId), `probe ${probeId}`);
      return probe.read(nowMs, found(air.get(probe.plan.benchId), `bench ${probe.plan.benchId}`));
    },
    truth: (trayId) => {
      const { body, benchId } = found(trays.get(trayId), `tray ${trayId}`);
      const { refillPointM3PerM3, medium } = body.plan;
      const waterContentM3PerM3 = meanBlockM3PerM3(body);
      return {
        benchId,
        waterContentM3PerM3,
        driestTenthM3PerM3: driestTenthM3PerM3(body),
        refillPointM3PerM3,
        moistureIndex:
          (waterContentM3PerM3 - refillPointM3PerM3) / (medium.containerCapacityM3PerM3 - refillPointM3PerM3),
        missingMl: missingMl(body),
        soaking: body.standingMl > 0,
      };
    },
    air: (benchId) => found(air.get(benchId), `bench ${benchId}`),
    pour: (trayId, ml, tipOutAfterH) => pourInto(interrupt(trayId), ml, nowMs, tipOutAfterH),
    setCover: (trayId, cover) => {
      interrupt(trayId).cover = cover;
    },
    moveTray: (trayId, benchId) => {
      found(air.get(benchId), `bench ${benchId}`);
      interrupt(trayId);
      found(trays.get(trayId), 'tray').benchId = benchId;
    },
    body: (trayId) => found(trays.get(trayId), `tray ${trayId}`),
    observe: (observer) => {
      observers.push(observer);
    },
  };
}
