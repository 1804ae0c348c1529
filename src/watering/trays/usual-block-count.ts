/** The usual blocks of the trade with their number on a 14 x 18 in tray (common practice): 3/4, 1 1/2, 2 in. */
const USUAL_BLOCKS = [
  { blockSideMm: 19, blockCount: 280 },
  { blockSideMm: 38, blockCount: 72 },
  { blockSideMm: 51, blockCount: 48 },
] as const;
/** Sizes are told as 19 or 20, 38 or 40: this close they mean the same blocks, mm. */
export const SAME_SIZE_MM = 2;

/** How many blocks of this side a usual tray takes; undefined for a size that has no usual number. */
export function usualBlockCount(blockSideMm: number): number | undefined {
  return USUAL_BLOCKS.find((blocks) => Math.abs(blocks.blockSideMm - blockSideMm) <= SAME_SIZE_MM)
    ?.blockCount;
}
