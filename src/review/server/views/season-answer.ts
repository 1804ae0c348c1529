import { toInstant } from '../../../../shared/base/ids.js';
import type { Watering } from '../../../../shared/facts/watering.js';
import type { SeasonAnswer, SeasonRow } from '../../../../shared/page/page-season.js';
import { curveBand } from '../../../drying/curves/curve-band.js';
import { bySize } from '../../../drying/curves/curve-filter.js';
import { DryDownsAbout } from '../../../drying/curves/dry-downs-about.js';
import type { KeptDryDown } from '../../../drying/curves/kept-dry-down.js';
import { refillHoursBySize } from '../../../drying/curves/refill-hours.js';
import { refillLevel } from '../../../drying/curves/refill-level.js';
import { countDryWet } from '../../../drying/curves/too-dry-too-wet.js';
import { type TrayDayWater, waterUse } from '../../../drying/curves/water-use.js';
import type { Fact } from '../../../monitor/ports/facts.js';
import type { ReviewQueries, Span } from '../../../monitor/ports/ports.js';
import { wateringsOf } from '../../../monitor/ports/pours-once.js';
import { cameTrueAnswer } from './came-true-answer.js';
import type { FarmCalendar } from './farm-calendar.js';

const MOST_FACTS = 200_000;
const MIDDLE_STEP_H = 1;
const KINDS = ['watering', 'alarm', 'call', 'round-notice', 'tray-event'] as const;

/** What a span came to: the farm, or the trays of one crop, and each block size with each crop. */
export async function seasonAnswer(
  queries: ReviewQueries,
  span: Span,
  calendar: FarmCalendar,
  crop?: string,
): Promise<SeasonAnswer> {
  const every = await queries.dryDowns(span);
  const about = new DryDownsAbout(every);
  const dryDowns = crop === undefined ? every : every.filter((one) => one.crop === crop);
  const isOfCrop = (trayId: string, at: string): boolean =>
    crop === undefined || about.nearest(trayId, Date.parse(at))?.crop === crop;
  const facts = (await queries.facts(KINDS, span, MOST_FACTS)).filter(
    (fact) => crop === undefined || aboutTrays(fact).some(({ tray, at }) => isOfCrop(tray, at)),
  );
  const waterings = wateringsOf(facts);
  const transitions = facts.flatMap((fact) => (fact.kind === 'alarm' ? [fact.transition] : []));
  const usesOf = (some: readonly Watering[]) => waterUse(some, every, calendar.dayOf);
  const uses = usesOf(waterings);
  const { all } = await cameTrueAnswer(queries, span, { crop }, calendar);
  const ended = facts.filter(
    (fact) =>
      fact.kind === 'tray-event' &&
      fact.undone !== true &&
      (fact.event.event === 'ended' || fact.event.event === 'potted-on'),
  );
  return {
    from: toInstant(span.fromMs),
    to: toInstant(span.toMs),
    trayCount: new Set([...dryDowns.map(({ trayId }) => trayId), ...uses.map(({ trayId }) => trayId)]).size,
    endedCount: ended.length,
    roundCount: facts.filter(
      (fact) => fact.kind === 'round-notice' && aboutTrays(fact).some(({ tray, at }) => isOfCrop(tray, at)),
    ).length,
    ...waterOf(uses),
    callCount: facts.filter(({ kind }) => kind === 'call').length,
    ...dryWetOf(countDryWet(transitions)),
    cameTrue: all,
    rows: [...bySize(dryDowns).values()].flatMap((ofSize) =>
      [...byCrop(ofSize)].map(([crop, own]) => {
        const isOwn = (tray: string | undefined, at: string): boolean => {
          const then = tray === undefined ? undefined : about.nearest(tray, Date.parse(at));
          return then?.crop === crop && then?.blockSideMm === own[0]?.blockSideMm;
        };
        return {
          ...rowOf(crop, own),
          ...waterOf(usesOf(waterings.filter(({ tray, at }) => isOwn(tray, at)))),
          ...dryWetOf(countDryWet(transitions.filter(({ tray, at }) => isOwn(tray, at)))),
        };
      }),
    ),
    sizes: [...bySize(dryDowns)].map(([blockSideMm, ofSize]) => {
      const refill = refillLevel(ofSize);
      return {
        blockSideMm,
        ...(refill === undefined ? {} : { refillPointM3PerM3: refill }),
        middle: curveBand(ofSize, MIDDLE_STEP_H).map(({ elapsedH, p50M3PerM3, curveCount }) => ({
          elapsedH,
          p50M3PerM3,
          curveCount,
        })),
      };
    }),
  };
}

/** The trays that a fact is about, and when; what concerns the whole house is about none. */
function aboutTrays(fact: Fact): readonly { readonly tray: string; readonly at: string }[] {
  switch (fact.kind) {
    case 'watering':
      return [fact.watering];
    case 'alarm':
      return fact.transition.tray === undefined
        ? []
        : [{ tray: fact.transition.tray, at: fact.transition.at }];
    case 'call':
      return fact.call.trays.map((tray) => ({ tray, at: fact.call.at }));
    case 'round-notice':
      return fact.notice.due.map(({ tray }) => ({ tray, at: fact.notice.at }));
    case 'tray-event':
      return [fact.event];
    default:
      return [];
  }
}

function byCrop(dryDowns: readonly KeptDryDown[]): ReadonlyMap<string | undefined, readonly KeptDryDown[]> {
  const crops = [...new Set(dryDowns.map(({ crop }) => crop))].sort((a, b) =>
    (a ?? '') < (b ?? '') ? -1 : 1,
  );
  return new Map(crops.map((crop) => [crop, dryDowns.filter((one) => one.crop === crop)] as const));
}

type RowOfDryDowns = Omit<SeasonRow, keyof ReturnType<typeof waterOf> | keyof ReturnType<typeof dryWetOf>>;

function rowOf(crop: string | undefined, dryDowns: readonly KeptDryDown[]): RowOfDryDowns {
  const [hours] = refillHoursBySize(dryDowns);
  if (hours === undefined) throw new RangeError('a row needs dry-downs of a known size');
  return {
    blockSideMm: hours.blockSideMm,
    ...(crop === undefined ? {} : { crop }),
    trayCount: new Set(dryDowns.map(({ trayId }) => trayId)).size,
    dryDownCount: hours.dryDownCount,
    reachedCount: hours.reachedCount,
    hoursToRefill: { ...hours.p50 },
    longestH: hours.longestH,
    meanTemperatureC: meanOverHours(dryDowns, ({ meanTemperatureC }) => meanTemperatureC),
    meanVpdKPa: meanOverHours(dryDowns, ({ meanVpdKPa }) => meanVpdKPa),
    meanSolarWPerM2: meanOverHours(dryDowns, ({ meanSolarWPerM2 }) => meanSolarWPerM2),
  };
}

function waterOf(uses: readonly TrayDayWater[]): Pick<SeasonRow, 'wateringCount' | 'ml' | 'unknownCount'> {
  const sum = (pick: (use: TrayDayWater) => number): number =>
    uses.reduce((total, use) => total + pick(use), 0);
  return {
    wateringCount: sum(({ wateringCount }) => wateringCount),
    ml: Math.round(sum(({ ml }) => ml)),
    unknownCount: sum(({ unknownCount }) => unknownCount),
  };
}

function dryWetOf(counts: ReturnType<typeof countDryWet>): Pick<SeasonRow, 'tooDryCount' | 'tooWetCount'> {
  return {
    tooDryCount: counts.reduce((sum, { tooDryCount }) => sum + tooDryCount, 0),
    tooWetCount: counts.reduce((sum, { tooWetCount }) => sum + tooWetCount, 0),
  };
}

/** Mean of what is known, each dry-down by its hours; null where nothing is. */
function meanOverHours(
  dryDowns: readonly KeptDryDown[],
  pick: (one: KeptDryDown) => number | undefined,
): number | null {
  let [sum, weight] = [0, 0];
  for (const one of dryDowns) {
    const value = pick(one);
    if (value === undefined) continue;
    const lasted = one.endedAtMs - one.startedAtMs;
    sum += value * lasted;
    weight += lasted;
  }
  return weight > 0 ? sum / weight : null;
}
