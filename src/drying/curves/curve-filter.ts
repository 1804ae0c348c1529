import type { DryDownSummary } from './kept-dry-down.js';

/**
 * Classes of mean vapour pressure deficit. Seedlings are raised at about 0.4 to 0.8 kPa and grown on at 0.8 to 1.2 kPa
 * (common practice); the classes below and above those take the rest.
 */
const VPD_EDGES_KPA = [0.4, 0.8, 1.2] as const;
export const VPD_CLASSES = [
  { id: 'very-humid', fromKPa: 0, belowKPa: VPD_EDGES_KPA[0] },
  { id: 'humid', fromKPa: VPD_EDGES_KPA[0], belowKPa: VPD_EDGES_KPA[1] },
  { id: 'dry', fromKPa: VPD_EDGES_KPA[1], belowKPa: VPD_EDGES_KPA[2] },
  { id: 'very-dry', fromKPa: VPD_EDGES_KPA[2], belowKPa: Number.POSITIVE_INFINITY },
] as const;
export type VpdClass = (typeof VPD_CLASSES)[number]['id'];

/** Class of a mean vapour pressure deficit, kPa; undefined when it is not known. */
export function vpdClassOf(vpdKPa: number | undefined): VpdClass | undefined {
  if (vpdKPa === undefined) return undefined;
  return VPD_CLASSES.find(({ belowKPa }) => vpdKPa < belowKPa)?.id;
}

/** Which dry-downs to compare; what is absent does not filter. A dry-down of which the asked thing is unknown is left out. */
export interface CurveFilter {
  readonly blockSideMm?: number | undefined;
  readonly benchId?: string | undefined;
  readonly trayId?: string | undefined;
  readonly crop?: string | undefined;
  /** Months of the watering on the farm's calendar, 1 to 12. */
  readonly months?: readonly number[] | undefined;
  readonly vpdClass?: VpdClass | undefined;
  readonly stage?: DryDownSummary['stage'];
  readonly covered?: boolean | undefined;
  readonly hasProbe?: boolean | undefined;
}

/** The dry-downs that a filter lets through; `monthOf` knows the farm's time zone. */
export function filterDryDowns<T extends DryDownSummary>(
  dryDowns: readonly T[],
  filter: CurveFilter,
  monthOf: (atMs: number) => number,
): readonly T[] {
  const fits = <V>(wanted: V | undefined, is: V | undefined) => wanted === undefined || wanted === is;
  return dryDowns.filter(
    (one) =>
      fits(filter.blockSideMm, one.blockSideMm) &&
      fits(filter.benchId, one.benchId) &&
      fits(filter.trayId, one.trayId) &&
      fits(filter.crop, one.crop) &&
      fits(filter.vpdClass, vpdClassOf(one.meanVpdKPa)) &&
      fits(filter.stage, one.stage) &&
      fits(filter.covered, one.covered) &&
      fits(filter.hasProbe, one.hasProbe) &&
      (filter.months === undefined || filter.months.includes(monthOf(one.startedAtMs))),
  );
}

/** Dry-downs by block size, smallest first; those of unknown size are left out. */
export function bySize<T extends DryDownSummary>(dryDowns: readonly T[]): ReadonlyMap<number, readonly T[]> {
  const sizes = [...new Set(dryDowns.flatMap(({ blockSideMm }) => blockSideMm ?? []))].sort((a, b) => a - b);
  return new Map(sizes.map((size) => [size, dryDowns.filter((one) => one.blockSideMm === size)] as const));
}
