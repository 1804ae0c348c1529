import type { SceneStyle } from '../../src/worlds/demo/virtual-bench/draw-plan.js';
import type { GrowerPlan } from './bench-grower.js';

/** What a kind of scenario fixes; everything else is drawn from its seed. */
export interface ScenarioRecipe {
  readonly kind: string;
  readonly style: SceneStyle;
  /** Month of the start, 0 January. */
  readonly month: number;
  readonly days: number;
  readonly cadenceS: number;
  /** Side in mm and blocks to a tray, tray by tray. */
  readonly trays: readonly (readonly [number, number])[];
  /** How many of the trays carry a probe (the others' size need not be among them). */
  readonly probed: number;
  readonly humidity: boolean;
  readonly light: boolean;
  /** Calibrated probes and known capacity and refill point; else the grower's eye only. */
  readonly calibrated: boolean;
  readonly faultyProbes: boolean;
  /** Trays start under a cover until germination, and some are moved to the other bench. */
  readonly movesAndCovers: boolean;
  readonly grower: Partial<GrowerPlan>;
  /** Beyond the ranges that the model's priors were set on; see `shiftPlan`. */
  readonly shifted?: boolean;
}

const common: readonly (readonly [number, number])[] = [
  [19, 280],
  [38, 72],
  [51, 48],
  [19, 280],
  [38, 72],
  [51, 48],
  [19, 280],
  [38, 72],
];

const ordinary: Omit<ScenarioRecipe, 'kind'> = {
  style: {},
  month: 3,
  days: 14,
  cadenceS: 300,
  trays: common,
  probed: 5,
  humidity: true,
  light: true,
  calibrated: true,
  faultyProbes: false,
  movesAndCovers: false,
  grower: {},
};

export const RECIPES: readonly ScenarioRecipe[] = [
  { ...ordinary, kind: 'spring-dull', month: 2, style: { cloudShare: [0.75, 0.9], heated: true } },
  { ...ordinary, kind: 'spring-mixed' },
  {
    ...ordinary,
    kind: 'hot-summer',
    month: 6,
    style: { latitudeDeg: 41, yearMeanC: [14, 16], cloudShare: [0.1, 0.3] },
  },
  { ...ordinary, kind: 'humid', month: 5, style: { dewDepressionK: [0.5, 2], cloudShare: [0.5, 0.8] } },
  { ...ordinary, kind: 'windy', month: 4, style: { windMPerS: [6, 9], fan: true } },
  { ...ordinary, kind: 'no-humidity', month: 4, humidity: false },
  { ...ordinary, kind: 'no-light', month: 4, light: false },
  { ...ordinary, kind: 'uncalibrated', calibrated: false, grower: { looks: 0.25, logs: 0.8 } },
  { ...ordinary, kind: 'faulty-probes', month: 4, faultyProbes: true },
  { ...ordinary, kind: 'unlogged', grower: { logs: 0 } },
  { ...ordinary, kind: 'partial-pours', month: 4, grower: { fills: 0.25, partialShare: [0.3, 0.8] } },
  { ...ordinary, kind: 'moved-and-covered', movesAndCovers: true },
  { ...ordinary, kind: 'every-10-s', days: 7, cadenceS: 10, probed: 3, trays: common.slice(0, 4) },
  { ...ordinary, kind: 'every-15-min', cadenceS: 900, month: 8 },
  { ...ordinary, kind: 'every-hour', cadenceS: 3600, month: 4 },
  { ...ordinary, kind: 'few-probes', probed: 2, month: 4 },
  {
    ...ordinary,
    kind: 'odd-sizes',
    month: 5,
    trays: [
      [19, 280],
      [25, 160],
      [31, 108],
      [38, 72],
      [44, 60],
      [64, 30],
      [100, 12],
      [25, 160],
    ],
  },
  {
    ...ordinary,
    kind: 'southern-autumn',
    month: 2,
    style: { latitudeDeg: -36, yearMeanC: [14, 17] },
    humidity: false,
    light: false,
    grower: { forgets: 0.15, latenessH: 2 },
  },
];
