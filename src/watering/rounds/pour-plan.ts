import type { PourPlan } from '../../../shared/round-notice.js';
import type { TrayNow } from '../watering-desk.js';

/** Inside of the usual 14 x 18 in tray, m2. */
export const USUAL_TRAY_AREA_M2 = 0.1626;
/** How deep water may stand when nobody measured the tray's lip: common practice for shallow trays. */
const USUAL_LIP_MM = 12;
/** Water above a third of the block softens the foot that it stands on: common practice with pressed blocks. */
const DEEPEST_SHARE_OF_BLOCK = 1 / 3;
/** A little more than the blocks take, so that the film reaches the far corner of a tray that is not quite level. */
const FILM_SHARE = 0.1;
/** Time for a film to be taken up, min per mm of block side; judgement: 10, 20, 25 min for the three common sizes. */
const SOAK_MIN_PER_MM = 0.5;
/** Dry medium sheds water: the first pours need about twice the time. */
const DRY_SOAK_FACTOR = 2;
const STEP_ML = 10;
const STEP_MIN = 5;
/** Blocks that touch still leave a gap; channels below this share of the tray's area are not believed. */
const SMALLEST_CHANNEL_SHARE = 0.1;

/** How much one pour can hold between the blocks, mL. */
export function channelsHoldMl(tray: TrayNow): number {
  const areaMm2 = (tray.trayAreaM2 ?? USUAL_TRAY_AREA_M2) * 1e6;
  const channelMm2 = Math.max(
    areaMm2 - tray.blockCount * tray.blockSideMm ** 2,
    areaMm2 * SMALLEST_CHANNEL_SHARE,
  );
  const depthMm = Math.min(tray.channelDepthMm ?? USUAL_LIP_MM, tray.blockSideMm * DEEPEST_SHARE_OF_BLOCK);
  return (channelMm2 * depthMm) / 1000;
}

/**
 * A dose split into equal pours that the channels hold, no deeper than the lip or a third of the block, with time to soak
 * between. `dry`: the blocks are at the refill point or below. Undefined for a dose of nothing.
 */
export function planPours(tray: TrayNow, doseMl: number, dry: boolean): PourPlan | undefined {
  if (doseMl <= 0) return undefined;
  const totalMl = doseMl * (1 + FILM_SHARE);
  const pours = Math.max(1, Math.ceil(totalMl / channelsHoldMl(tray)));
  const stepped = Math.floor(totalMl / pours / STEP_ML) * STEP_ML;
  const pourMl = stepped * pours >= doseMl ? stepped : Math.ceil(doseMl / pours);
  const soakMin = tray.blockSideMm * SOAK_MIN_PER_MM * (dry ? DRY_SOAK_FACTOR : 1);
  return {
    pours,
    pourMl,
    soakMin: Math.max(STEP_MIN, Math.round(soakMin / STEP_MIN) * STEP_MIN),
    tipOutMl: Math.max(0, pours * pourMl - doseMl),
  };
}
