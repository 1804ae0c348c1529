import { toInstant } from '../../../shared/base/ids.js';
import { MS_PER_DAY } from '../../../shared/base/time-units.js';
import { type FarmConfig, farmConfigSchema } from '../../../shared/config/farm.js';
import { createRandomSource } from './virtual-bench/air/random-source.js';
import {
  drawClimateProbe,
  drawHouse,
  drawMoistureProbe,
  drawTray,
  drawWeather,
} from './virtual-bench/draw-plan.js';
import { weighIn } from './virtual-bench/probes/weigh-in.js';
import type { FarmPlan } from './virtual-bench/virtual-bench.js';

/** Farm seconds per real second: a day in 72 s, the first notice, call and watering within half a minute. */
export const DEMO_SPEED = 1200;
/** 18 April 2026, 05:00 on the farm's clock (CEST): before the first round's notice. */
export const DEMO_START_MS = Date.UTC(2026, 3, 18, 3, 0);
/** How long the house has watched before the demo begins (see `demo-past.ts`). */
export const DEMO_PAST_MS = 3 * MS_PER_DAY;
/** The mini tray that got only part of its dose on the evening before: it is due on the first morning. */
export const DEMO_DUE_FIRST: readonly string[] = ['celery-1'];

const SEED = 19;
const LATITUDE_DEG = 52.5;
const LONGITUDE_DEG = 13.4;

interface DemoTray {
  readonly id: string;
  readonly bench: 'south' | 'north';
  readonly side: 19 | 38 | 51;
  readonly crop: string;
  /** Where its moisture probe is connected; absent: no probe, the model covers it. */
  readonly probeAt?: { readonly board: string; readonly input: string };
  readonly startIndex: number;
  readonly sownDaysAgo: number;
  readonly covered?: boolean;
}

const BLOCKS_PER_TRAY = { 19: 280, 38: 72, 51: 48 } as const;

const TRAYS: readonly DemoTray[] = [
  {
    id: 'celery-1',
    bench: 'south',
    side: 19,
    crop: 'celery',
    probeAt: { board: 'kit-south', input: 'A0' },
    startIndex: 0.42,
    sownDaysAgo: 16,
  },
  { id: 'lettuce-1', bench: 'south', side: 19, crop: 'lettuce', startIndex: 0.5, sownDaysAgo: 9 },
  {
    id: 'tomato-1',
    bench: 'south',
    side: 38,
    crop: 'tomato',
    probeAt: { board: 'kit-south', input: 'A1' },
    startIndex: 0.8,
    sownDaysAgo: 18,
  },
  { id: 'leek-1', bench: 'south', side: 19, crop: 'leek', startIndex: 0.95, sownDaysAgo: 4, covered: true },
  {
    id: 'lettuce-2',
    bench: 'north',
    side: 19,
    crop: 'lettuce',
    probeAt: { board: 'kit-north', input: 'A0' },
    startIndex: 0.95,
    sownDaysAgo: 10,
  },
  { id: 'leek-2', bench: 'north', side: 38, crop: 'leek', startIndex: 0.7, sownDaysAgo: 24 },
  {
    id: 'tomato-2',
    bench: 'north',
    side: 51,
    crop: 'tomato',
    probeAt: { board: 'kit-north', input: 'A3' },
    startIndex: 0.85,
    sownDaysAgo: 30,
  },
];

const BENCH_IDS = ['south', 'north'] as const;
/** Seedlings are up about this long after sowing (common practice for these crops in a warm house). */
const GERMINATION_DAYS = 6;

const probeId = (tray: DemoTray): string => `moist-${tray.id}`;

/** The invented farm's weather, houses, trays and probes, all drawn from one seed. */
export function demoFarmPlan(startMs = DEMO_START_MS): FarmPlan {
  const random = createRandomSource(SEED);
  const style = { latitudeDeg: LATITUDE_DEG, cloudShare: [0.15, 0.25], heated: true, fan: false } as const;
  return {
    seed: SEED,
    startMs,
    weather: { ...drawWeather(style, random), longitudeDeg: LONGITUDE_DEG },
    benches: BENCH_IDS.map((id) => ({ id, house: drawHouse(style, random), floorM2: 12 })),
    trays: TRAYS.map((tray) => ({
      tray: drawTray(tray.id, tray.side, BLOCKS_PER_TRAY[tray.side], random),
      benchId: tray.bench,
      cover: tray.covered === true ? 'loose-dome' : 'none',
      germinatedAtMs: DEMO_START_MS + (GERMINATION_DAYS - tray.sownDaysAgo) * MS_PER_DAY,
      startIndex: tray.startIndex,
    })),
    climateProbes: [
      drawClimateProbe('air-temperature', 'temp-south', 'south', [], random),
      drawClimateProbe('relative-humidity', 'rh-south', 'south', [], random),
      drawClimateProbe('light', 'light-south', 'south', [], random),
      drawClimateProbe('air-temperature', 'temp-north', 'north', [], random),
      drawClimateProbe('light', 'light-north', 'north', [], random),
    ],
    moistureProbes: TRAYS.filter((tray) => tray.probeAt !== undefined).map((tray) =>
      drawMoistureProbe(probeId(tray), tray.id, [], random),
    ),
  };
}

/** The same farm as its grower configured it: two kits, calibrated probes, everything else as the schema has it. */
export function demoFarmConfig(plan: FarmPlan = demoFarmPlan()): FarmConfig {
  const random = createRandomSource(SEED).fork('kitchen scale');
  const drawn = new Map(plan.trays.map(({ tray }) => [tray.id, tray]));
  const hundredths = (value: number | undefined): number => Math.round((value ?? 0) * 100) / 100;
  return farmConfigSchema.parse({
    farm: 'alder-row',
    timeZone: 'Europe/Berlin',
    rounds: ['07:00', '18:00'],
    latitude: LATITUDE_DEG,
    longitude: LONGITUDE_DEG,
    cadenceS: 300,
    benches: BENCH_IDS.map((id) => ({ id })),
    boards: [
      {
        id: 'kit-south',
        model: 'uno',
        probePower: { pin: 7, through: 'load-switch' },
        reference: { input: 'A3' },
        callPost: { lampPin: 12, buttonPin: 4 },
      },
      {
        id: 'kit-north',
        model: 'nano',
        probePower: { pin: 7, through: 'load-switch', topInput: 'A7' },
        reference: { input: 'A6' },
      },
    ],
    trays: TRAYS.map((tray) => ({
      id: tray.id,
      bench: tray.bench,
      blockSideMm: tray.side,
      blockCount: BLOCKS_PER_TRAY[tray.side],
      crop: tray.crop,
      medium: 'fine mix',
      containerCapacityM3PerM3: hundredths(drawn.get(tray.id)?.medium.containerCapacityM3PerM3),
      refillPointM3PerM3: hundredths(drawn.get(tray.id)?.refillPointM3PerM3),
      sownAt: toInstant(DEMO_START_MS - tray.sownDaysAgo * MS_PER_DAY),
      ...(tray.sownDaysAgo >= GERMINATION_DAYS
        ? { germinatedAt: toInstant(DEMO_START_MS + (GERMINATION_DAYS - tray.sownDaysAgo) * MS_PER_DAY) }
        : {}),
      ...(tray.covered === true ? { cover: 'loose-dome' } : {}),
    })),
    probes: [
      ...(['air-temperature', 'relative-humidity'] as const).map((kind) => ({
        id: kind === 'air-temperature' ? 'temp-south' : 'rh-south',
        kind,
        bench: 'south',
        hookup: { part: 'sht31', board: 'kit-south' },
      })),
      {
        id: 'temp-north',
        kind: 'air-temperature',
        bench: 'north',
        hookup: {
          part: 'thermistor',
          board: 'kit-north',
          input: 'A1',
          curve: { resistanceAt25Ohm: 10_000, betaK: 3950 },
        },
      },
      ...[
        { bench: 'south', board: 'kit-south' },
        { bench: 'north', board: 'kit-north' },
      ].map(({ bench, board }) => ({
        id: `light-${bench}`,
        kind: 'light',
        bench,
        hookup: { part: 'photo-resistor', board, input: 'A2', fixedOhm: 330 },
      })),
      ...TRAYS.flatMap((tray) => {
        const probe = plan.moistureProbes.find(({ id }) => id === probeId(tray));
        if (probe === undefined || tray.probeAt === undefined) return [];
        return {
          id: probe.id,
          kind: 'block-moisture',
          tray: tray.id,
          calibration: weighIn(probe, [0.15, 0.35, 0.6], random),
          hookup: { part: 'capacitive-moisture', ...tray.probeAt },
        };
      }),
    ],
  });
}
