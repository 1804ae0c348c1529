import { MM_PER_M, MM3_PER_ML } from '../../../shared/base/metric-units.js';
import type { UnitsConfig } from '../../../shared/config/notices.js';
import type { PourPlan } from '../../../shared/facts/round-notice.js';
import { USUAL_TRAY_AREA_M2 } from '../../drying/physics/tray-geometry.js';
import type { TrayNow } from '../desk/watering-desk.js';
import { ML_PER_FL_OZ } from '../sentences/words/told-amounts.js';

/** How deep water may stand when nobody measured the tray's lip: common practice for shallow trays. */
const USUAL_LIP_MM = 12;
/** Water above a third of the block softens the foot that it stands on: common practice with pressed blocks. */
const DEEPEST_SHARE_OF_BLOCK = 1 / 3;
/** Time for a film to be taken up, min per mm of block side; judgement: 10, 20, 25 min for the three common sizes. */
const SOAK_MIN_PER_MM = 0.5;
/** Dry medium sheds water: the first pours need about twice the time. */
const DRY_SOAK_FACTOR = 2;
const STEP_MIN = 5;
/** Blocks that touch still leave a gap; channels below this share of the tray's area are not believed. */
const SMALLEST_CHANNEL_SHARE = 0.1;

/** How much one pour can hold between the blocks, mL. */
export function channelsHoldMl(
  tray: Pick<TrayNow, 'blockSideMm' | 'blockCount' | 'trayAreaM2' | 'channelDepthMm'>,
): number {
  const areaMm2 = (tray.trayAreaM2 ?? USUAL_TRAY_AREA_M2) * MM_PER_M ** 2;
  const channelMm2 = Math.max(
    areaMm2 - tray.blockCount * tray.blockSideMm ** 2,
    areaMm2 * SMALLEST_CHANNEL_SHARE,
  );
  const depthMm = Math.min(tray.channelDepthMm ?? USUAL_LIP_MM, tray.blockSideMm * DEEPEST_SHARE_OF_BLOCK);
  return (channelMm2 * depthMm) / MM3_PER_ML;
}

/** A dose as it is told, and how it is poured. */
export interface Dose {
  /** All that the blocks miss; equal to the pours together and what they leave out. */
  readonly doseMl: number;
  /** Absent for a dose of nothing. */
  readonly pourPlan?: PourPlan | undefined;
}

/** No finer than anybody pours: 10 mL, or a whole fluid ounce on a farm that uses them. */
const STEP_ML: Readonly<Record<UnitsConfig['volume'], number>> = { mL: 10, 'fl oz': ML_PER_FL_OZ };

/** How a farm pours. */
export interface Pouring {
  readonly mostPours: number;
  readonly unit: UnitsConfig['volume'];
}

/**
 * What is missing as equal pours that the channels hold, no deeper than the lip or a third of the block, at most `mostPours` of
 * them with time to soak between. `dry`: the blocks are at the refill point or below. This is the one place where a dose is rounded:
 * up, so that the film reaches the far corner of a tray that is not quite level.
 */
export function planDose(tray: TrayNow, missingMl: number, dry: boolean, { mostPours, unit }: Pouring): Dose {
  if (missingMl <= 0) return { doseMl: 0 };
  const stepMl = STEP_ML[unit];
  const steppedUp = (ml: number): number => Math.ceil(ml / stepMl) * stepMl;
  const holdMl = channelsHoldMl(tray);
  const fullPourMl = holdMl < stepMl ? holdMl : Math.floor(holdMl / stepMl) * stepMl;
  const wanted = Math.ceil(missingMl / fullPourMl);
  const pours = Math.min(wanted, mostPours);
  const pourMl = wanted > mostPours ? fullPourMl : Math.min(fullPourMl, steppedUp(missingMl / pours));
  const shortMl = wanted > mostPours ? steppedUp(missingMl - pours * pourMl) : 0;
  const soakMin = tray.blockSideMm * SOAK_MIN_PER_MM * (dry ? DRY_SOAK_FACTOR : 1);
  return {
    doseMl: pours * pourMl + shortMl,
    pourPlan: {
      pours,
      pourMl,
      soakMin: Math.max(STEP_MIN, Math.round(soakMin / STEP_MIN) * STEP_MIN),
      ...(shortMl === 0 ? {} : { shortMl }),
    },
  };
}
