/** Block sizes of the trade with their usual number on a 14 x 18 in tray (common practice). */
export const BLOCK_SIZES = [
  { name: 'mini', blockSideMm: 19, blockCount: 280 },
  { name: 'medium', blockSideMm: 38, blockCount: 72 },
  { name: 'large', blockSideMm: 51, blockCount: 48 },
] as const;
