import { createRandomSource } from '../../src/worlds/demo/virtual-bench/air/random-source.js';
import {
  drawClimateProbe,
  drawHouse,
  drawMoistureProbe,
  drawTray,
  drawWeather,
  type SceneStyle,
} from '../../src/worlds/demo/virtual-bench/draw-plan.js';
import {
  createVirtualBench,
  type FarmPlan,
  type VirtualBench,
} from '../../src/worlds/demo/virtual-bench/virtual-bench.js';

export const SPRING_MS = Date.UTC(2026, 3, 10);

const SIZES: readonly [number, number][] = [
  [19, 280],
  [38, 72],
  [51, 48],
];

/** One bench, trays t0, t1, ... of the three common sizes in turn, a probe in the first. */
export function plainPlan(seed: number, trayCount = 3, style: SceneStyle = {}): FarmPlan {
  const random = createRandomSource(seed);
  return {
    seed,
    startMs: SPRING_MS,
    weather: drawWeather(style, random),
    benches: [{ id: 'south', house: drawHouse(style, random), floorM2: 20 }],
    trays: Array.from({ length: trayCount }, (_, index) => {
      const [side, count] = SIZES[index % 3] ?? [19, 280];
      return {
        tray: drawTray(`t${index}`, side, count, random),
        benchId: 'south',
        cover: 'none',
        germinatedAtMs: SPRING_MS - 5 * 86_400_000,
        startIndex: 1,
      };
    }),
    climateProbes: [
      drawClimateProbe('air-temperature', 'temp-south', 'south', [], random),
      drawClimateProbe('relative-humidity', 'rh-south', 'south', [], random),
      drawClimateProbe('light', 'light-south', 'south', [], random),
    ],
    moistureProbes: [drawMoistureProbe('moist-t0', 't0', [], random)],
  };
}

export function plainBench(seed: number, trayCount = 3, style: SceneStyle = {}): VirtualBench {
  return createVirtualBench(plainPlan(seed, trayCount, style));
}
