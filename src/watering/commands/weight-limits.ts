import { trayVolumeMl } from '../../drying/physics/tray-geometry.js';
import type { RegisteredTray } from '../desk/tray-register.js';
import { type Refused, refused } from './outcome.js';

/** Dry mass of the lightest medium, loose fibrous white peat, g per mL: pressed blocks weigh more. From memory; low on purpose. */
const LIGHTEST_DRY_G_PER_ML = 0.06;
/** A soaked block of much sand or soil, g per mL: 1.2 of mineral and 0.6 of water. Judgement; high on purpose. */
const HEAVIEST_WET_G_PER_ML = 1.8;
/** A wooden or steel tray, with the water that stands in it, g. Judgement; high on purpose. */
const HEAVIEST_TRAY_G = 5_000;
const ROUND_TO_G = 10;

/**
 * Refused where the tray can't weigh that: less than its blocks bone-dry and without the tray, or more than the blocks soaked on a
 * heavy tray with water in it. Scales with the tray and scales that leave it out both lie between.
 * @param grams as told, above 0
 */
export function impossibleWeight(tray: RegisteredTray | undefined, grams: number): Refused | undefined {
  if (tray === undefined) return undefined;
  const volumeMl = trayVolumeMl(tray);
  const leastG = Math.ceil((volumeMl * LIGHTEST_DRY_G_PER_ML) / ROUND_TO_G) * ROUND_TO_G;
  const mostG = Math.ceil((volumeMl * HEAVIEST_WET_G_PER_ML + HEAVIEST_TRAY_G) / ROUND_TO_G) * ROUND_TO_G;
  if (grams >= leastG && grams <= mostG) return undefined;
  const isLight = grams < leastG;
  const blocks = { count: tray.blockCount, sideMm: tray.blockSideMm };
  return refused(isLight ? 'weight-too-small' : 'weight-too-large', [
    'impossibleWeight',
    tray.id,
    grams,
    blocks,
    isLight ? { leastG } : { mostG },
  ]);
}
