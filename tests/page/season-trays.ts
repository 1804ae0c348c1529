/** A tray of the invented season. */
export interface SeasonTray {
  readonly id: string;
  readonly bench: string;
  readonly blockSideMm: number;
  readonly blockCount: number;
  readonly crop: string;
  readonly full: number;
  readonly refill: number;
  readonly hasProbe: boolean;
  /** Days after the season's start on which it came to the bench. */
  readonly startsDay: number;
}

const SIZES = { mini: [19, 280], medium: [38, 72], large: [51, 48] } as const;

const ROWS: readonly (readonly [
  bench: string,
  size: keyof typeof SIZES,
  crop: string,
  probe: boolean,
  day: number,
])[] = [
  ['south', 'mini', 'celery', true, 0],
  ['south', 'mini', 'lettuce', false, 0],
  ['south', 'mini', 'onion', false, 4],
  ['south', 'medium', 'lettuce', true, 0],
  ['south', 'medium', 'tomato', true, 8],
  ['south', 'large', 'tomato', true, 14],
  ['south', 'large', 'pepper', false, 18],
  ['south', 'medium', 'basil', false, 20],
  ['north', 'mini', 'leek', true, 0],
  ['north', 'mini', 'leek', false, 0],
  ['north', 'medium', 'kale', false, 10],
  ['north', 'medium', 'chard', false, 12],
  ['north', 'large', 'squash', false, 30],
];

export function seasonTrays(): readonly SeasonTray[] {
  return ROWS.map(([bench, size, crop, hasProbe, startsDay], index) => ({
    id: `t${index + 1}`,
    bench,
    blockSideMm: SIZES[size][0],
    blockCount: SIZES[size][1],
    crop,
    full: 0.58 + (index % 3) * 0.015,
    refill: 0.33 + (index % 4) * 0.012,
    hasProbe,
    startsDay,
  }));
}

/** Hours until the blocks are at the refill point at an ordinary rate; 0 when they are, null beyond 120 h. */
export function hoursLeft(tray: SeasonTray, waterContent: number): number | null {
  const ratePerH = 0.0125 * (19 / tray.blockSideMm ** 0.94) * (tray.bench === 'south' ? 1.15 : 0.85);
  const hours = Math.max(0, (waterContent - tray.refill) / ratePerH);
  return hours > 120 ? null : hours;
}
