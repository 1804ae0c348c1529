import { MM_PER_M, MM3_PER_ML } from '../../../shared/base/metric-units.js';

/** Inside area of the usual shallow tray, 14 x 18 in, m². */
export const USUAL_TRAY_AREA_M2 = 0.16258;
/** Blocks are set out no wider than this, however few stand in a tray, mm (common practice: a hand's thumb). */
const WIDEST_GAP_MM = 15;
/** Blocks touch at the corners rather than overlap: narrowest channel, mm. */
const NARROWEST_GAP_MM = 1.5;
/** Length over width of a tray, 18:14. */
const TRAY_ASPECT = 18 / 14;

/** What a tray of blocks is; the area of the usual tray when absent. */
export interface TrayShape {
  readonly blockSideMm: number;
  readonly blockCount: number;
  readonly trayAreaM2?: number | undefined;
}

/** Volume of one cubic block, mL. */
export function blockVolumeMl(blockSideMm: number): number {
  return blockSideMm ** 3 / MM3_PER_ML;
}

/** Volume of a tray's blocks, mL. */
export function trayVolumeMl(tray: TrayShape): number {
  return tray.blockCount * blockVolumeMl(tray.blockSideMm);
}

/** Distance from block to block, mm: what the tray's area leaves, between touching and the widest usual gap. */
export function blockPitchMm(tray: TrayShape): number {
  const areaMm2 = (tray.trayAreaM2 ?? USUAL_TRAY_AREA_M2) * MM_PER_M ** 2;
  const gapMm = Math.sqrt(areaMm2 / tray.blockCount) - tray.blockSideMm;
  return tray.blockSideMm + Math.min(WIDEST_GAP_MM, Math.max(NARROWEST_GAP_MM, gapMm));
}

/** Depth of medium spread over the occupied area, mm; water content times this is mm of water. */
export function mediumDepthMm(tray: TrayShape): number {
  return tray.blockSideMm ** 3 / blockPitchMm(tray) ** 2;
}

/** Share of a tray's blocks that stand in the outer ring, 0 to 1 (1 for trays of one or two rows). */
export function edgeShare(blockCount: number): number {
  const across = Math.max(1, Math.round(Math.sqrt(blockCount / TRAY_ASPECT)));
  const along = blockCount / across;
  const inner = Math.max(0, across - 2) * Math.max(0, along - 2);
  return 1 - inner / blockCount;
}
