import { MS_PER_DAY } from '../../../../../shared/base/time-units.js';

/** Seedlings of a tray; leaf area per tray area grows from germination on. */
export interface SeedlingPlan {
  readonly finalLeafAreaIndex: number;
  readonly halfGrownDays: number;
  readonly growthSpreadDays: number;
  /** Baille's two terms: share of radiation, and kg/(m2 h kPa). */
  readonly radiationShare: number;
  readonly deficitKgPerM2HKPa: number;
  /** Leaves close below this water content of the core. */
  readonly closesBelowM3PerM3: number;
}

/** Leaf area index at an instant; 0 before germination. */
export function leafAreaIndex(plan: SeedlingPlan, germinatedAtMs: number | undefined, atMs: number): number {
  if (germinatedAtMs === undefined || atMs < germinatedAtMs) return 0;
  const days = (atMs - germinatedAtMs) / MS_PER_DAY;
  return plan.finalLeafAreaIndex / (1 + Math.exp(-(days - plan.halfGrownDays) / plan.growthSpreadDays));
}

/** Extinction of light in a young canopy (Katsoulas & Kittas 2011 for tomato). */
const EXTINCTION = 0.64;

/** Share of the light that reaches the blocks under the leaves. */
export function lightUnderLeaves(leafArea: number): number {
  return Math.exp(-EXTINCTION * leafArea);
}

/** Transpiration, g per m2 of tray and hour, after Baille (1994): A (1 - exp(-k LAI)) Rs / lambda + B LAI VPD. */
export function transpirationGPerM2H(
  plan: SeedlingPlan,
  leafArea: number,
  air: { readonly solarWPerM2: number; readonly deficitKPa: number },
): number {
  /** 1 W/m2 evaporates 3600 / 2.45e6 kg/(m2 h) */
  const gPerWh = 3600 / 2450;
  return (
    plan.radiationShare * (1 - lightUnderLeaves(leafArea)) * air.solarWPerM2 * gPerWh +
    1000 * plan.deficitKgPerM2HKPa * leafArea * air.deficitKPa * (air.solarWPerM2 > 5 ? 1 : 0.15)
  );
}
