import { toInstant } from '../../../../shared/base/ids.js';
import { MS_PER_DAY } from '../../../../shared/base/time-units.js';
import type { CurvesAnswer, SizeCurves } from '../../../../shared/page/page-review.js';
import { curveBand } from '../../../drying/curves/curve-band.js';
import {
  bySize,
  type CurveFilter,
  filterDryDowns,
  VPD_CLASSES,
  vpdClassOf,
} from '../../../drying/curves/curve-filter.js';
import type { KeptDryDown } from '../../../drying/curves/kept-dry-down.js';
import { refillHoursBySize } from '../../../drying/curves/refill-hours.js';
import { refillLevel } from '../../../drying/curves/refill-level.js';
import { countDryWet } from '../../../drying/curves/too-dry-too-wet.js';
import { waterUse } from '../../../drying/curves/water-use.js';
import type { ReviewQueries, Span } from '../../../monitor/ports/ports.js';
import { wateringsOf } from '../../../monitor/ports/pours-once.js';
import { Refusal } from '../http/respond.js';
import type { FarmCalendar } from './farm-calendar.js';

const MOST_FACTS = 200_000;
/** One point of a band for each of these. */
const BAND_STEP_H = 1;

/** Which dry-downs are asked for. */
export function askedFilter(query: URLSearchParams): CurveFilter {
  const text = (name: string): string | undefined => query.get(name) ?? undefined;
  const vpd = text('vpd');
  const vpdClass = VPD_CLASSES.find(({ id }) => id === vpd)?.id;
  if (vpd !== undefined && vpdClass === undefined)
    throw new Refusal(400, 'unknown-class', `There is no VPD class "${vpd.slice(0, 40)}".`);
  const stage = text('stage');
  if (stage !== undefined && stage !== 'germinating' && stage !== 'growing')
    throw new Refusal(
      400,
      'unknown-stage',
      `"stage" is germinating or growing, not "${stage.slice(0, 40)}".`,
    );
  const months = text('months')?.split(',').map(Number);
  if (months?.some((month) => !Number.isInteger(month) || month < 1 || month > 12))
    throw new Refusal(400, 'not-a-month', '"months" are numbers from 1 to 12, with commas between.');
  return {
    benchId: text('bench'),
    crop: text('crop'),
    trayId: text('tray'),
    months,
    vpdClass,
    stage,
  };
}

const known = <T>(values: readonly (T | undefined)[]): T[] =>
  [...new Set(values.filter((value) => value !== undefined))].sort();

/** The Curves view: bands and table by block size. */
export async function curvesAnswer(
  queries: ReviewQueries,
  span: Span,
  filter: CurveFilter,
  calendar: FarmCalendar,
): Promise<CurvesAnswer> {
  const all = await queries.dryDowns(span);
  const facts = await queries.facts(['watering', 'alarm'], span, MOST_FACTS);
  const chosen = filterDryDowns(all, filter, calendar.monthOf);
  const trays = new Set(chosen.map((one) => one.trayId));
  const waterings = wateringsOf(facts).filter(({ tray }) => trays.has(tray));
  const uses = waterUse(waterings, chosen, calendar.dayOf).filter(
    (use) => filter.months === undefined || filter.months.includes(Number(use.day.slice(5, 7))),
  );
  const dryWet = countDryWet(facts.flatMap((fact) => (fact.kind === 'alarm' ? [fact.transition] : [])));
  const table = new Map(refillHoursBySize(chosen).map((row) => [row.blockSideMm, row]));
  const sizes = [...bySize(chosen)].flatMap(([blockSideMm, ofSize]): SizeCurves[] => {
    const row = table.get(blockSideMm);
    if (row === undefined) return [];
    const refillPoint = refillLevel(ofSize);
    const own = new Set(ofSize.map((one) => one.trayId));
    const ownUses = uses.filter((use) => own.has(use.trayId) && use.unknownCount === 0);
    const ownDryWet = dryWet.filter((count) => own.has(count.trayId));
    return [
      {
        blockSideMm,
        dryDownCount: row.dryDownCount,
        reachedCount: row.reachedCount,
        band: curveBand(ofSize, BAND_STEP_H).map((point) => ({ ...point })),
        ...(refillPoint === undefined ? {} : { refillPointM3PerM3: refillPoint }),
        hoursToRefill: { p10: { ...row.p10 }, p50: { ...row.p50 }, p90: { ...row.p90 } },
        longestH: row.longestH,
        roundsPerDay: row.roundsPerDay,
        waterPerTrayDayMl: perTrayDay(ofSize, ownUses),
        tooDryCount: ownDryWet.reduce((sum, count) => sum + count.tooDryCount, 0),
        tooWetCount: ownDryWet.reduce((sum, count) => sum + count.tooWetCount, 0),
        trayCount: own.size,
      },
    ];
  });
  return {
    from: toInstant(span.fromMs),
    to: toInstant(span.toMs),
    sizes,
    choices: {
      benches: known(all.map((one) => one.benchId)),
      crops: known(all.map((one) => one.crop)),
      months: known(all.map((one) => calendar.monthOf(one.startedAtMs))).sort((a, b) => a - b),
      vpdClasses: VPD_CLASSES.map(({ id }) => id).filter((id) =>
        all.some((one) => vpdClassOf(one.meanVpdKPa) === id),
      ),
      stages: known(all.map((one) => one.stage)),
      trays: known(all.map((one) => one.trayId)),
    },
  };
}

/** mL a tray took on a day, over the days that its dry-downs cover. */
function perTrayDay(dryDowns: readonly KeptDryDown[], uses: readonly { ml: number }[]): number | null {
  const dryingMs = dryDowns.reduce((sum, one) => sum + one.endedAtMs - one.startedAtMs, 0);
  const ml = uses.reduce((sum, use) => sum + use.ml, 0);
  const trayDays = dryingMs / MS_PER_DAY;
  return uses.length === 0 || trayDays <= 0 ? null : ml / trayDays;
}
