/** 14 x 18 in, the trade's tray (common practice), lying with its long side across. */
export const TRAY_WIDE_MM = 457;
export const TRAY_DEEP_MM = 356;

export interface TrayGrid {
  readonly columns: number;
  readonly rows: number;
}

/** Columns and rows that hold `count` blocks with the least waste in a tray of this shape. */
export function trayGrid(count: number): TrayGrid {
  const ideal = Math.sqrt((count * TRAY_WIDE_MM) / TRAY_DEEP_MM);
  let best: TrayGrid = { columns: count, rows: 1 };
  let bestCost = Number.POSITIVE_INFINITY;
  for (let columns = Math.max(1, Math.floor(ideal * 0.8)); columns <= Math.ceil(ideal * 1.3); columns++) {
    const rows = Math.ceil(count / columns);
    const waste = (columns * rows - count) / count;
    const shape = Math.abs(Math.log(columns / rows / (TRAY_WIDE_MM / TRAY_DEEP_MM)));
    const cost = waste * 8 + shape;
    if (cost < bestCost) {
      bestCost = cost;
      best = { columns, rows };
    }
  }
  return best;
}

const known = new Map<string, string>();

/** SVG path of all blocks of a tray in mm, drawn to scale; blocks that would not fit are drawn as large as they can be. */
export function blocksPath(count: number, sideMm: number): string {
  const key = `${count} ${sideMm}`;
  const before = known.get(key);
  if (before !== undefined) return before;
  const { columns, rows } = trayGrid(count);
  const across = TRAY_WIDE_MM / columns;
  const down = TRAY_DEEP_MM / rows;
  const side = Math.min(sideMm, across * 0.9, down * 0.9);
  const parts: string[] = [];
  for (let block = 0; block < count; block++) {
    const x = (block % columns) * across + (across - side) / 2;
    const y = Math.floor(block / columns) * down + (down - side) / 2;
    parts.push(`M${x.toFixed(1)} ${y.toFixed(1)}h${side.toFixed(1)}v${side.toFixed(1)}h-${side.toFixed(1)}z`);
  }
  const path = parts.join('');
  known.set(key, path);
  return path;
}
