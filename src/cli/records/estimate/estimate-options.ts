import { S_PER_HOUR } from '../../../../shared/base/time-units.js';
import type { UnitsConfig } from '../../../../shared/config/notices.js';
import type { Cover } from '../../../../shared/config/trays.js';
import type { EstimateClimate, EstimateTray } from '../../../drying/estimate.js';
import { solarWPerM2FromLux } from '../../../drying/physics/air/sun.js';
import { BadWord } from '../../terminal/typed/bad-word.js';
import { expectedSide, sideMmOf } from '../../terminal/typed/block-side.js';
import { parseQuantity, quantityOf } from '../../terminal/typed/quantities.js';
import { METRIC, readUnits } from '../../terminal/typed/typed-units.js';
import { AIR_WORDS, COVER_WORDS, LIGHT_WORDS, STAGE_WORDS } from './words.js';

/** What was typed. */
export interface EstimateOptions {
  readonly temperature: string;
  readonly humidity: string;
  readonly night?: string;
  readonly air: string;
  readonly light: string;
  readonly dayLength: string;
  readonly bottomHeat?: string;
  readonly stage: string;
  readonly cover: string;
  readonly block?: readonly string[];
  /** As typed, or those of the farm here; metric when absent. */
  readonly units?: string | UnitsConfig;
}

/** What it means, or every problem in it. */
export type EstimateRequest =
  | {
      readonly ok: true;
      readonly units: UnitsConfig;
      readonly climate: EstimateClimate;
      readonly trays: readonly EstimateTray[];
    }
  | { readonly ok: false; readonly problems: readonly string[] };

/** The common three, blocks to a 14 x 18 in tray (common practice). */
const USUAL_TRAYS = [
  { blockSideMm: 19.05, blockCount: 280 },
  { blockSideMm: 38.1, blockCount: 72 },
  { blockSideMm: 50.8, blockCount: 48 },
] as const;
const USUAL_TRAY_MM = { length: 457, width: 356 } as const;
/** Usual channel between blocks, mm. */
const USUAL_GAP_MM = 7;
const SAME_SIDE_MM = 0.6;
const SMALLEST_SIDE_MM = 10;
const LARGEST_SIDE_MM = 300;
const MOST_BLOCKS = 2000;

/** As many blocks of this side as a usual tray takes. */
export function usualBlockCount(blockSideMm: number): number {
  const usual = USUAL_TRAYS.find((tray) => Math.abs(tray.blockSideMm - blockSideMm) <= SAME_SIDE_MM);
  if (usual !== undefined) return usual.blockCount;
  const rows = (mm: number): number =>
    Math.max(1, Math.floor((mm + USUAL_GAP_MM) / (blockSideMm + USUAL_GAP_MM)));
  return rows(USUAL_TRAY_MM.length) * rows(USUAL_TRAY_MM.width);
}

type Report = (problem: string) => void;

/** A number within limits, or a problem told and NaN. */
function within(
  value: number | undefined,
  [low, high]: readonly [number, number],
  what: string,
  report: Report,
): number {
  if (value !== undefined && value >= low && value <= high) return value;
  report(what);
  return Number.NaN;
}

function wordsOf(words: Readonly<Record<string, unknown>>): string {
  return Object.keys(words).join(', ');
}

function lightMJPerM2Day(text: string, dayLengthH: number): number | undefined {
  const word = LIGHT_WORDS[text];
  if (word !== undefined) return word;
  const quantity = parseQuantity(text);
  const fromDayMeanW = (watts: number): number => (watts * dayLengthH * S_PER_HOUR) / 1e6;
  switch (quantity?.unit) {
    case '':
    case 'mj':
    case 'mj/m2':
      return quantity.value;
    case 'w/m2':
      return fromDayMeanW(quantity.value);
    case 'lx':
      return fromDayMeanW(solarWPerM2FromLux(quantity.value));
    case 'klx':
      return fromDayMeanW(solarWPerM2FromLux(1000 * quantity.value));
    default:
      return undefined;
  }
}

function stageDays(text: string, report: Report): number | undefined {
  if (Object.hasOwn(STAGE_WORDS, text)) return STAGE_WORDS[text];
  const quantity = parseQuantity(text);
  const expected = `--stage "${text}": expected ${wordsOf(STAGE_WORDS)}, or days since they came up (0 to 120)`;
  return within(quantity?.unit === '' ? quantity.value : undefined, [0, 120], expected, report);
}

function coverOf(text: string, report: Report): Cover {
  const cover = COVER_WORDS.find((word) => word === text);
  if (cover === undefined) report(`--cover "${text}": expected ${COVER_WORDS.join(', ')}`);
  return cover ?? 'none';
}

function trayOf(
  text: string,
  units: UnitsConfig,
  report: Report,
): { blockSideMm: number; blockCount: number } {
  const [sideText = '', countText] = text.split(':');
  const blockSideMm = within(
    sideMmOf(sideText, units),
    [SMALLEST_SIDE_MM, LARGEST_SIDE_MM],
    `--block "${text}": expected ${expectedSide(units)}; with the blocks to a tray: 25mm:150`,
    report,
  );
  if (countText === undefined) return { blockSideMm, blockCount: usualBlockCount(blockSideMm) };
  const blockCount = Number(countText);
  if (!Number.isInteger(blockCount) || blockCount < 1 || blockCount > MOST_BLOCKS)
    report(`--block "${text}": expected 1 to ${MOST_BLOCKS} blocks to a tray after the colon`);
  return { blockSideMm, blockCount };
}

function unitsOf(units: EstimateOptions['units'], report: Report): UnitsConfig {
  if (typeof units !== 'string') return units ?? METRIC;
  try {
    return readUnits(units, METRIC);
  } catch (cause) {
    if (!(cause instanceof BadWord)) throw cause;
    report(`--units ${cause.message}`);
    return METRIC;
  }
}

/** Reads the options; all problems at once, each with what was expected. */
export function readEstimateOptions(options: EstimateOptions): EstimateRequest {
  const problems: string[] = [];
  const report: Report = (problem) => problems.push(problem);
  const units = unitsOf(options.units, report);
  const degrees = units.temperature === 'F' ? '14 to 140 °F' : '-10 to 60 °C';
  const temperature = (name: string, text: string): number =>
    within(
      quantityOf('temperature', text, units),
      [-10, 60],
      `--${name} "${text}": expected ${degrees}`,
      report,
    );
  const plain = (text: string, unit: string): number | undefined => {
    const quantity = parseQuantity(text);
    return quantity?.unit === '' || quantity?.unit === unit ? quantity.value : undefined;
  };

  const temperatureC = temperature('temperature', options.temperature);
  const nightTemperatureC = options.night === undefined ? undefined : temperature('night', options.night);
  const relativeHumidityPct = within(
    plain(options.humidity, '%'),
    [1, 100],
    `--humidity "${options.humidity}": expected 1 to 100 %`,
    report,
  );
  const dayLengthH = within(
    plain(options.dayLength, 'h'),
    [1, 24],
    `--day-length "${options.dayLength}": expected 1 to 24 hours`,
    report,
  );
  const airSpeedMPerS = within(
    AIR_WORDS[options.air] ?? quantityOf('airSpeed', options.air, units),
    [0, 5],
    `--air "${options.air}": expected ${wordsOf(AIR_WORDS)}, or 0 to 5 m/s`,
    report,
  );
  const solarMJPerM2Day = within(
    lightMJPerM2Day(options.light, dayLengthH),
    [0, 40],
    `--light "${options.light}": expected ${wordsOf(LIGHT_WORDS)}, or 0 to 40 MJ/m2 a day, or a mean by day such as 150W/m2 or 20klx`,
    report,
  );
  const bottomHeatWPerM2 =
    options.bottomHeat === undefined
      ? undefined
      : within(
          plain(options.bottomHeat, 'w/m2'),
          [0, 300],
          `--bottom-heat "${options.bottomHeat}": expected 0 to 300 W/m2, mean of day and night`,
          report,
        );
  const cover = coverOf(options.cover, report);
  const daysSinceGermination = stageDays(options.stage, report);
  const sizes = options.block?.map((text) => trayOf(text, units, report)) ?? USUAL_TRAYS;
  if (problems.length > 0) return { ok: false, problems };
  return {
    ok: true,
    units,
    climate: {
      temperatureC,
      relativeHumidityPct,
      nightTemperatureC,
      airSpeedMPerS,
      solarMJPerM2Day,
      dayLengthH,
      bottomHeatWPerM2,
    },
    trays: sizes.map((size) => ({ ...size, cover, daysSinceGermination })),
  };
}
