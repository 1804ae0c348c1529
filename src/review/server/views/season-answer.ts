import { toInstant } from '../../../../shared/base/ids.js';
import type { SeasonAnswer, SeasonRow } from '../../../../shared/page/page-season.js';
import { curveBand } from '../../../drying/curves/curve-band.js';
import { bySize, filterDryDowns } from '../../../drying/curves/curve-filter.js';
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
  const dryDowns = filterDryDowns(await queries.dryDowns(span), { crop }, calendar.monthOf);
  const ofCrop = new Set(dryDowns.map(({ trayId }) => trayId));
  const isOfCrop = (trayId: string): boolean => crop === undefined || ofCrop.has(trayId);
  const facts = (await queries.facts(KINDS, span, MOST_FACTS)).filter(
    (fact) => crop === undefined || traysOf(fact).some(isOfCrop),
  );
  const waterings = wateringsOf(facts);
  const uses = waterUse(waterings, dryDowns, calendar.dayOf);
  const dryWet = countDryWet(facts.flatMap((fact) => (fact.kind === 'alarm' ? [fact.transition] : [])));
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
      (fact) => fact.kind === 'round-notice' && fact.notice.due.some(({ tray }) => isOfCrop(tray)),
    ).length,
    ...waterOf(uses),
    callCount: facts.filter(({ kind }) => kind === 'call').length,
    ...dryWetOf(dryWet),
    cameTrue: all,
    rows: [...bySize(dryDowns).values()].flatMap((ofSize) =>
      [...byCrop(ofSize)].map(([crop, own]) => rowOf(crop, own, uses, dryWet)),
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

/** The trays that a fact is about; what concerns the whole house is about none. */
function traysOf(fact: Fact): readonly string[] {
  switch (fact.kind) {
    case 'watering':
      return [fact.watering.tray];
    case 'alarm':
      return [fact.transition.tray ?? []].flat();
    case 'call':
      return fact.call.trays;
    case 'round-notice':
      return fact.notice.due.map(({ tray }) => tray);
    case 'tray-event':
      return [fact.event.tray];
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

function rowOf(
  crop: string | undefined,
  dryDowns: readonly KeptDryDown[],
  uses: readonly TrayDayWater[],
  dryWet: ReturnType<typeof countDryWet>,
): SeasonRow {
  const [hours] = refillHoursBySize(dryDowns);
  if (hours === undefined) throw new RangeError('a row needs dry-downs of a known size');
  const trays = new Set(dryDowns.map(({ trayId }) => trayId));
  const own = <T extends { readonly trayId: string }>(all: readonly T[]): T[] =>
    all.filter(({ trayId }) => trays.has(trayId));
  return {
    blockSideMm: hours.blockSideMm,
    ...(crop === undefined ? {} : { crop }),
    trayCount: trays.size,
    dryDownCount: hours.dryDownCount,
    reachedCount: hours.reachedCount,
    hoursToRefill: { ...hours.p50 },
    longestH: hours.longestH,
    meanTemperatureC: meanOverHours(dryDowns, ({ meanTemperatureC }) => meanTemperatureC),
    meanVpdKPa: meanOverHours(dryDowns, ({ meanVpdKPa }) => meanVpdKPa),
    meanSolarWPerM2: meanOverHours(dryDowns, ({ meanSolarWPerM2 }) => meanSolarWPerM2),
    ...waterOf(own(uses)),
    ...dryWetOf(own(dryWet)),
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
