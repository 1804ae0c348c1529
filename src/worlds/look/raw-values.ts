import type { FileUnit } from './cells/units.js';
import type { FoundSeries } from './recognise.js';

/** How a file's unit becomes a probe's raw unit (V, °C, %, lx, W/m2, g): value x factor + offset. */
interface Conversion {
  readonly factor: number;
  readonly offset: number;
}

/** Lux of sunlight for each µmol/m2/s of photosynthetic light: 54 (Thimijan and Heins 1983, table 3; from memory). */
const LX_PER_PAR = 54;
/** The international pound (1959), to what a scale shows. */
const G_PER_LB = 453.592;
const OZ_PER_LB = 16;
const KELVIN_ZERO_C = -273.15;
/** Counts of a converter have no volts of their own; scaled so that 16 bits stay below ten. */
const VOLTS_PER_COUNT = 1e-4;

const CONVERSIONS: Readonly<Record<FileUnit, Conversion>> = {
  '°C': { factor: 1, offset: 0 },
  '°F': { factor: 5 / 9, offset: -160 / 9 },
  K: { factor: 1, offset: KELVIN_ZERO_C },
  '%': { factor: 1, offset: 0 },
  'm3/m3': { factor: 1, offset: 0 },
  lx: { factor: 1, offset: 0 },
  klx: { factor: 1000, offset: 0 },
  'W/m2': { factor: 1, offset: 0 },
  'µmol/m2/s': { factor: LX_PER_PAR, offset: 0 },
  V: { factor: 1, offset: 0 },
  mV: { factor: 1e-3, offset: 0 },
  counts: { factor: VOLTS_PER_COUNT, offset: 0 },
  g: { factor: 1, offset: 0 },
  kg: { factor: 1000, offset: 0 },
  lb: { factor: G_PER_LB, offset: 0 },
  oz: { factor: G_PER_LB / OZ_PER_LB, offset: 0 },
};

/** The values of a series in the raw unit of its probe. Moisture in per cent becomes a share of one, as if it were volts. */
export function rawValues({ kind, unit, values }: FoundSeries): readonly number[] {
  const { factor, offset } = CONVERSIONS[unit];
  const share = kind === 'block-moisture' && unit === '%' ? 1 / 100 : 1;
  return values.map((value) => (value * factor + offset) * share);
}

/** Beyond this a reading in per cent is no share of the volume but a scale of the probe's own (judgement). */
const MOST_VOLUMETRIC_PCT = 70;

/** True where a moisture series is in water content already, so that no calibration is needed. */
export function isVolumetric({ kind, unit, values }: FoundSeries): boolean {
  if (kind !== 'block-moisture') return false;
  if (unit === 'm3/m3') return values.every((value) => value <= 1);
  return unit === '%' && values.every((value) => value <= MOST_VOLUMETRIC_PCT);
}
