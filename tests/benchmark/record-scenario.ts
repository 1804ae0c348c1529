import { DateTime } from 'luxon';
import { type FarmConfig, farmConfigSchema } from '../../shared/config/farm.js';
import {
  createRandomSource,
  type RandomSource,
} from '../../src/worlds/demo/virtual-bench/air/random-source.js';
import {
  drawClimateProbe,
  drawHouse,
  drawMoistureProbe,
  drawTray,
  drawWeather,
} from '../../src/worlds/demo/virtual-bench/draw-plan.js';
import type { ClimateProbePlan } from '../../src/worlds/demo/virtual-bench/probes/climate-probe.js';
import type { MoistureProbePlan } from '../../src/worlds/demo/virtual-bench/probes/moisture-probe.js';
import type { ProbeFault } from '../../src/worlds/demo/virtual-bench/probes/probe-faults.js';
import { weighIn } from '../../src/worlds/demo/virtual-bench/probes/weigh-in.js';
import {
  createVirtualBench,
  type FarmPlan,
  type VirtualBench,
} from '../../src/worlds/demo/virtual-bench/virtual-bench.js';
import { type GrowerPlan, nextRoundMs, walkRound } from './bench-grower.js';
import { createBenchHistory } from './bench-history.js';
import { shiftPlan } from './grounds/shift-plan.js';
import type { LogRow, Scenario, TruePour } from './scenario.js';
import type { ScenarioRecipe } from './scenario-recipes.js';

const DAY_MS = 86_400_000;
const HOUR_MS = 3_600_000;
const TIME_ZONE = 'Europe/Berlin';
const BENCHES = ['south', 'north'] as const;
/** The bench runs on this long after the recording, so that every forecast's truth is known. */
const TAIL_DAYS = 6;

export function utcOffsetMin(atMs: number): number {
  return DateTime.fromMillis(atMs, { zone: TIME_ZONE }).offset;
}

function drawGrower(recipe: ScenarioRecipe, random: RandomSource): GrowerPlan {
  return {
    roundHours: [7, 18],
    latenessH: random.between(0.1, 0.8),
    forgets: random.between(0, 0.12),
    watersBelowIndex: random.between(0.2, 0.55),
    eyeSd: random.between(0.08, 0.2),
    whim: random.between(0, 0.1),
    fills: random.between(0.75, 1),
    partialShare: [0.4, 0.9],
    logs: random.between(0.75, 1),
    noteErrorH: 0.2,
    looks: 0.03,
    ...recipe.grower,
  };
}

function drawFaults(wanted: boolean, startMs: number, days: number, random: RandomSource): ProbeFault[] {
  if (!wanted || random.chance(0.35)) return [];
  const fromMs = startMs + random.between(0.35, 0.7) * days * DAY_MS;
  return [
    {
      kind: random.pick(['stuck', 'spikes', 'drop-outs', 'unplugged'] as const),
      fromMs,
      toMs: fromMs + random.between(0.5, 3) * DAY_MS,
    },
  ];
}

function drawFarm(recipe: ScenarioRecipe, startMs: number, seed: number, random: RandomSource): FarmPlan {
  const trayIds = recipe.trays.map((_, index) => `t${index + 1}`);
  const climateProbes: ClimateProbePlan[] = BENCHES.flatMap((bench) => [
    drawClimateProbe('air-temperature', `temp-${bench}`, bench, [], random),
    ...(recipe.humidity ? [drawClimateProbe('relative-humidity', `rh-${bench}`, bench, [], random)] : []),
    ...(recipe.light ? [drawClimateProbe('light', `light-${bench}`, bench, [], random)] : []),
  ]);
  const moistureProbes: MoistureProbePlan[] = trayIds
    .slice(0, recipe.probed)
    .map((id) =>
      drawMoistureProbe(
        `moist-${id}`,
        id,
        drawFaults(recipe.faultyProbes, startMs, recipe.days, random),
        random,
      ),
    );
  const plan: FarmPlan = {
    seed,
    startMs,
    weather: drawWeather(recipe.style, random),
    benches: BENCHES.map((id) => ({ id, house: drawHouse(recipe.style, random), floorM2: 20 })),
    trays: recipe.trays.map(([side, count], index) => {
      const covered = recipe.movesAndCovers && random.chance(0.6);
      return {
        tray: drawTray(`t${index + 1}`, side, count, random),
        benchId: index % 4 === 3 ? 'north' : 'south',
        cover: covered ? random.pick(['film', 'loose-dome', 'tight-dome'] as const) : 'none',
        germinatedAtMs: startMs + (covered ? random.between(3, 7) : -random.between(0, 9)) * DAY_MS,
        startIndex: random.between(0.4, 1),
      };
    }),
    climateProbes,
    moistureProbes,
  };
  return recipe.shifted === true ? shiftPlan(plan, random) : plan;
}

/** Water contents at which the hobbyist weighed: soaked and drained, partly dry, dry; some begin a little drier. */
function weighedAt(plan: FarmPlan, trayId: string, random: RandomSource): readonly number[] {
  const tray = plan.trays.find((one) => one.tray.id === trayId)?.tray;
  const soaked = (tray?.medium.containerCapacityM3PerM3 ?? 0.65) + 0.01;
  return random.pick([
    [0.15, 0.6],
    [0.15, soaked],
    [0.12, 0.4, soaked],
  ] as const);
}

function configOf(recipe: ScenarioRecipe, plan: FarmPlan, random: RandomSource): FarmConfig {
  return farmConfigSchema.parse({
    farm: 'alder-row',
    timeZone: TIME_ZONE,
    rounds: ['07:00', '18:00'],
    cadenceS: recipe.cadenceS,
    ...(random.chance(0.5)
      ? { latitude: plan.weather.latitudeDeg, longitude: plan.weather.longitudeDeg }
      : {}),
    benches: BENCHES.map((id) => ({ id })),
    trays: plan.trays.map(({ tray, benchId, cover, germinatedAtMs }) => ({
      id: tray.id,
      bench: benchId,
      blockSideMm: tray.blockSideMm,
      blockCount: tray.blockCount,
      trayAreaM2: tray.trayAreaM2,
      sownAt: new Date(plan.startMs - 6 * DAY_MS).toISOString(),
      ...(germinatedAtMs !== undefined && germinatedAtMs <= plan.startMs
        ? { germinatedAt: new Date(germinatedAtMs).toISOString() }
        : {}),
      ...(cover === 'none' ? {} : { cover }),
      ...(recipe.calibrated
        ? {
            containerCapacityM3PerM3: Math.round(tray.medium.containerCapacityM3PerM3 * 100) / 100,
            refillPointM3PerM3: Math.round(tray.refillPointM3PerM3 * 1000) / 1000,
          }
        : {}),
    })),
    probes: [
      ...plan.climateProbes.map(({ id, kind, benchId, unit }) => ({
        id,
        kind,
        bench: benchId,
        ...(unit === undefined ? {} : { unit }),
      })),
      ...plan.moistureProbes.map((probe) => ({
        id: probe.id,
        kind: 'block-moisture',
        tray: probe.trayId,
        ...(recipe.calibrated
          ? {
              calibration: weighIn(probe, weighedAt(plan, probe.trayId, random), random),
            }
          : {}),
      })),
    ],
  });
}

interface Happening {
  readonly atMs: number;
  readonly row: LogRow;
  readonly act: (bench: VirtualBench) => void;
}

/** Covers that come off at germination, trays that are moved once. */
function drawHappenings(recipe: ScenarioRecipe, plan: FarmPlan, random: RandomSource): Happening[] {
  if (!recipe.movesAndCovers) return [];
  const happenings = plan.trays.flatMap(({ tray, benchId, cover, germinatedAtMs }): Happening[] => {
    const list: Happening[] = [];
    if (cover !== 'none' && germinatedAtMs !== undefined) {
      const atMs = germinatedAtMs + random.between(0, 12) * 3_600_000;
      list.push({ atMs, row: { atMs, tray: tray.id, event: 'germinated' }, act: () => undefined });
      list.push({
        atMs: atMs + 60_000,
        row: { atMs: atMs + 60_000, tray: tray.id, event: 'uncovered' },
        act: (bench) => bench.setCover(tray.id, 'none'),
      });
    }
    if (random.chance(0.5)) {
      const atMs = plan.startMs + random.between(5, recipe.days - 4) * DAY_MS;
      const bench = benchId === 'south' ? 'north' : 'south';
      list.push({
        atMs,
        row: { atMs, tray: tray.id, event: 'moved', bench },
        act: (house) => house.moveTray(tray.id, bench),
      });
    }
    return list;
  });
  return happenings.sort((a, b) => a.atMs - b.atMs);
}

/** Readings as they come, grown by doubling. */
function createColumns(probeIds: readonly string[], expected: number) {
  const atMs = new Float64Array(expected);
  const probe = new Uint16Array(expected);
  const value = new Float64Array(expected);
  let count = 0;
  return {
    add: (at: number, index: number, raw: number) => {
      atMs[count] = at;
      probe[count] = index;
      value[count] = raw;
      count++;
    },
    done: () => ({ probeIds, atMs, probe, value, count }),
  };
}

/** A scenario's farm before anything has happened on it. */
export interface Scene {
  readonly plan: FarmPlan;
  readonly config: FarmConfig;
  readonly startMs: number;
  readonly endMs: number;
  readonly random: RandomSource;
}

/** Draws weather, houses, trays and probes of a recipe, and the configuration that its grower would write. */
export function drawScene(recipe: ScenarioRecipe, seed: number): Scene {
  const random = createRandomSource(seed).fork(recipe.kind);
  const startMs = Date.UTC(2025, recipe.month, Math.floor(random.between(1, 25)));
  const plan = drawFarm(recipe, startMs, Math.floor(random.between(1, 2 ** 31)), random.fork('farm'));
  const config = configOf(recipe, plan, random.fork('config'));
  return { plan, config, startMs, endMs: startMs + recipe.days * DAY_MS, random };
}

/**
 * Plays one scenario on the virtual bench and records what a farm would have recorded.
 * @param withOwnPhysics also what the bench's own physics would forecast at each hour (slow; a reference only)
 */
export function recordScenario(recipe: ScenarioRecipe, seed: number, withOwnPhysics = false): Scenario {
  const { plan, config, startMs, endMs, random } = drawScene(recipe, seed);
  const grower = drawGrower(recipe, random.fork('grower'));
  const hands = random.fork('hands');
  const happenings = drawHappenings(recipe, plan, random.fork('happenings'));

  const bench = createVirtualBench(plan);
  const history = createBenchHistory(bench);
  bench.observe(history);
  const probeIds = config.probes.map((probe) => probe.id);
  const cadenceMs = recipe.cadenceS * 1000;
  const columns = createColumns(probeIds, Math.ceil((endMs - startMs) / cadenceMs + 1) * probeIds.length);
  const log: LogRow[] = [];
  const pours: TruePour[] = [];
  const ownPhysicsH = new Map(plan.trays.map(({ tray }) => [tray.id, new Map<number, number>()]));

  const walk = (): void => {
    const looks = plan.trays.map(({ tray }) => ({
      trayId: tray.id,
      blockSideMm: tray.blockSideMm,
      ...bench.truth(tray.id),
    }));
    const round = walkRound(grower, looks, hands);
    const atMs = bench.nowMs();
    for (const { trayId, level } of round.looks) log.push({ atMs, tray: trayId, event: 'looked', level });
    for (const pour of round.pours) {
      bench.pour(pour.trayId, pour.ml, pour.tipOutAfterH);
      pours.push({ trayId: pour.trayId, atMs });
      if (!pour.logged) continue;
      const row: LogRow = { atMs: atMs + pour.noteErrorMs, tray: pour.trayId, event: 'watered' };
      log.push(pour.notedMl === undefined ? row : { ...row, ml: pour.notedMl });
    }
  };

  let roundMs = nextRoundMs(grower, startMs, utcOffsetMin(startMs), hands);
  let nextHappening = 0;
  for (let atMs = startMs; atMs <= endMs; atMs += cadenceMs) {
    while (roundMs <= atMs) {
      bench.step(Math.max(roundMs, bench.nowMs()));
      walk();
      roundMs = nextRoundMs(grower, roundMs, utcOffsetMin(roundMs), hands);
    }
    for (
      let due = happenings[nextHappening];
      due !== undefined && due.atMs <= atMs;
      due = happenings[++nextHappening]
    ) {
      bench.step(Math.max(due.atMs, bench.nowMs()));
      due.act(bench);
      log.push(due.row);
    }
    bench.step(atMs);
    if (withOwnPhysics && atMs % HOUR_MS === 0)
      for (const [trayId, hours] of ownPhysicsH) {
        const forecastH = history.dryOutIfYesterdayRepeatsH(trayId);
        if (forecastH !== undefined) hours.set(atMs, forecastH);
      }
    probeIds.forEach((id, index) => {
      const raw = bench.readProbe(id);
      if (raw !== undefined) columns.add(atMs, index, raw);
    });
  }
  bench.step(endMs + TAIL_DAYS * DAY_MS);
  return {
    kind: recipe.kind,
    seed,
    config,
    startMs,
    endMs,
    readings: columns.done(),
    log: log.sort((a, b) => a.atMs - b.atMs),
    truth: {
      history,
      pours,
      refillPointM3PerM3: new Map(plan.trays.map(({ tray }) => [tray.id, tray.refillPointM3PerM3])),
      ownPhysicsH,
    },
  };
}
