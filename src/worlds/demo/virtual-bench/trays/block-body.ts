import type { RandomSource } from '../air/random-source.js';

/** What the blocks of a tray are made of; drawn per tray. */
export interface MediumPlan {
  readonly containerCapacityM3PerM3: number;
  /** Water that evaporation cannot take. */
  readonly residualM3PerM3: number;
  /** Share of a block's volume in its outer layer, 0 to 1. */
  readonly shellShare: number;
  /** Surface resistance of a wet face, s/m, and how it rises as the shell dries below `surfaceDryBelowM3PerM3`. */
  readonly wetResistanceSPerM: number;
  readonly surfaceDryBelowM3PerM3: number;
  readonly resistanceRise: number;
  /** Exchange between core and shell at capacity, share of the difference per hour, and its fall with dryness. */
  readonly exchangePerH: number;
  readonly exchangePower: number;
  /** A shell that was drier than this sheds water, and takes it up at this share of the usual rate. */
  readonly shedsBelowM3PerM3: number;
  readonly shedUptakeShare: number;
}

/** Where a block stands in its tray: how many of its four sides look outward. */
export type BlockPosition = 'corner' | 'edge' | 'inner';
export const OUTWARD_SIDES: Readonly<Record<BlockPosition, number>> = { corner: 2, edge: 1, inner: 0 };

/** One block standing for `weight` like it. Two layers: the shell dries, the core feeds it. */
export interface BlockBody {
  readonly position: BlockPosition;
  readonly weight: number;
  readonly capacityM3PerM3: number;
  /** This block's own factor on what it loses. */
  readonly lossFactor: number;
  shellM3PerM3: number;
  coreM3PerM3: number;
  sheds: boolean;
}

export function blockWaterM3PerM3(block: BlockBody, medium: MediumPlan): number {
  return medium.shellShare * block.shellM3PerM3 + (1 - medium.shellShare) * block.coreM3PerM3;
}

/**
 * Resistance of the drying surface, s/m: exponential in the water content of the top layer (van de Griend & Owe 1994),
 * a smooth falling rate instead of a knee.
 */
export function surfaceResistanceSPerM(block: BlockBody, medium: MediumPlan): number {
  const missing = medium.surfaceDryBelowM3PerM3 - block.shellM3PerM3;
  return medium.wetResistanceSPerM * (missing > 0 ? Math.exp(medium.resistanceRise * missing) : 1);
}

/** Water moves from core to shell (or back after a watering); exact over the step, so no step is too long. */
export function exchangeLayers(block: BlockBody, medium: MediumPlan, stepH: number): void {
  const wetness = Math.max(0.05, blockWaterM3PerM3(block, medium) / block.capacityM3PerM3);
  const rate = medium.exchangePerH * wetness ** medium.exchangePower;
  const difference = block.coreM3PerM3 - block.shellM3PerM3;
  const moved = difference * (1 - Math.exp(-rate * stepH));
  block.shellM3PerM3 += moved * (1 - medium.shellShare);
  block.coreM3PerM3 -= moved * medium.shellShare;
}

/** Rows and columns of a tray, about 14 x 18 in. */
function gridOf(blockCount: number): { rows: number; columns: number } {
  const columns = Math.max(1, Math.round(Math.sqrt((blockCount * 18) / 14)));
  return { rows: Math.max(1, Math.round(blockCount / columns)), columns };
}

/** Representative blocks: a few of each position, weighted by how many blocks of the tray stand there. */
export function layOutBlocks(
  blockCount: number,
  medium: MediumPlan,
  spread: { readonly lossLogSd: number; readonly capacitySd: number },
  random: RandomSource,
): BlockBody[] {
  const { rows, columns } = gridOf(blockCount);
  const corner = Math.min(blockCount, 4);
  const edge = Math.max(0, Math.min(blockCount - corner, 2 * (rows + columns) - 8));
  const share: [BlockPosition, number, number][] = [
    ['corner', corner, 2],
    ['edge', edge, 7],
    ['inner', blockCount - corner - edge, 9],
  ];
  return share.flatMap(([position, count, bodies]) =>
    Array.from({ length: count > 0 ? Math.min(bodies, count) : 0 }, () => {
      const capacityM3PerM3 = medium.containerCapacityM3PerM3 + random.normal(0, spread.capacitySd);
      return {
        position,
        weight: count / Math.min(bodies, count),
        capacityM3PerM3,
        lossFactor: random.around(1, spread.lossLogSd),
        shellM3PerM3: capacityM3PerM3,
        coreM3PerM3: capacityM3PerM3,
        sheds: false,
      };
    }),
  );
}
