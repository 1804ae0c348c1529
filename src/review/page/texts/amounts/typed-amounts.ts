import type { UnitsConfig } from '../../../../../shared/config/notices.js';
import { G_PER_LB, ML_PER_FL_OZ, OZ_PER_LB } from '../../../../watering/sentences/words/told-amounts.js';

const MM_PER_IN = 25.4;
/** A size this near to a quarter inch is that size: 19 mm is the trade's 3/4 in (judgement). */
const SIZE_TOLERANCE_MM = 0.6;
/** One press more or less on a measure: half a cup, to the mL that the farm's unit gives (judgement). */
const STEP_ML = 50;
const STEP_FL_OZ = 2;

/** By how much a measured pour is set, mL: 50 mL, or two fluid ounces. */
export function waterStepMl({ volume }: UnitsConfig): number {
  return volume === 'fl oz' ? STEP_FL_OZ * ML_PER_FL_OZ : STEP_ML;
}

/** A length as it is typed on this farm: in mm, or in inches to the nearest hundredth, a trade size by its quarters. */
export function lengthTyped(mm: number, { length }: UnitsConfig): number {
  if (length === 'mm') return mm;
  const quarters = Math.round((mm / MM_PER_IN) * 4) / 4;
  const inches = mm / MM_PER_IN;
  return Math.abs(quarters - inches) * MM_PER_IN <= SIZE_TOLERANCE_MM ? quarters : Number(inches.toFixed(2));
}

/** What was typed, in mm; a size that the trade has is that one, however it was rounded to inches. */
export function lengthOfTyped(value: number, { length }: UnitsConfig, tradeMm: readonly number[]): number {
  if (length === 'mm') return value;
  const mm = value * MM_PER_IN;
  return tradeMm.find((one) => Math.abs(one - mm) <= SIZE_TOLERANCE_MM) ?? Number(mm.toFixed(1));
}

type WeightUnit = UnitsConfig['weight'];
const G_PER: Readonly<Record<WeightUnit, number>> = { g: 1, oz: G_PER_LB / OZ_PER_LB, lb: G_PER_LB };

/** The fields that a weight is written into on this farm, the larger unit first. */
export function weightFields({ weight }: UnitsConfig): readonly [WeightUnit, ...WeightUnit[]] {
  return weight === 'lb' ? ['lb', 'oz'] : [weight];
}

/** What was written into the fields of a weight, in grams to a tenth; an empty field is none of its unit. */
export function gramsTyped(written: (unit: WeightUnit) => number, units: UnitsConfig): number {
  return Number(
    weightFields(units)
      .reduce((sum, unit) => sum + written(unit) * G_PER[unit], 0)
      .toFixed(1),
  );
}
