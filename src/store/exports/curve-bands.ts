import { type BandPoint, curveBand } from '../../drying/curves/curve-band.js';
import { bySize } from '../../drying/curves/curve-filter.js';
import type { KeptDryDown } from '../../drying/curves/kept-dry-down.js';
import { refillLevel } from '../../drying/curves/refill-level.js';
import { csvRow } from './csv.js';

/** The band of one block size. */
export interface SizeBand {
  readonly blockSideMm: number;
  readonly dryDownCount: number;
  readonly points: readonly BandPoint[];
  /** Absent when not known. */
  readonly refillPointM3PerM3?: number | undefined;
}

/** Fine enough for the smallest blocks, which dry within a day. */
const STEP_H = 0.5;

/** Bands of all block sizes, smallest first; a size with too few curves has no points. */
export function sizeBands(dryDowns: readonly KeptDryDown[]): readonly SizeBand[] {
  return [...bySize(dryDowns)].map(([blockSideMm, ofSize]) => ({
    blockSideMm,
    dryDownCount: ofSize.length,
    points: curveBand(ofSize, STEP_H),
    refillPointM3PerM3: refillLevel(ofSize),
  }));
}

/** Bands as CSV, size after size. */
export function bandsCsv(bands: readonly SizeBand[]): string {
  const columns = [
    'blockSideMm',
    'elapsedH',
    'waterContentP10M3PerM3',
    'waterContentP50M3PerM3',
    'waterContentP90M3PerM3',
    'curveCount',
  ];
  const rows = bands.flatMap(({ blockSideMm, points }) =>
    points.map((point) => [
      blockSideMm,
      point.elapsedH,
      point.p10M3PerM3 ?? '',
      point.p50M3PerM3,
      point.p90M3PerM3,
      point.curveCount,
    ]),
  );
  return [columns, ...rows].map(csvRow).join('');
}
