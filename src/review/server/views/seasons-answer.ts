import { DateTime } from 'luxon';
import { toInstant } from '../../../../shared/base/ids.js';
import type { FarmConfig } from '../../../../shared/config/farm.js';
import type { SeasonsAnswer } from '../../../../shared/page/page-season.js';
import type { ReviewQueries } from '../../../monitor/ports/ports.js';

/** A season of seedlings begins in winter: January north of the equator, July south of it (judgement). */
const FIRST_MONTH = { north: 1, south: 7 } as const;
const MONTHS = 12;

/** The seasons in which a dry-down ended, newest first. */
export async function seasonsAnswer(
  queries: ReviewQueries,
  { timeZone, latitude }: FarmConfig,
  nowMs: number,
): Promise<SeasonsAnswer> {
  const month = (latitude ?? 0) < 0 ? FIRST_MONTH.south : FIRST_MONTH.north;
  const dryDowns = await queries.dryDownSummaries({ fromMs: 0, toMs: nowMs + 1 });
  const begins = new Set(dryDowns.map(({ endedAtMs }) => beginOf(endedAtMs, timeZone, month)));
  return {
    month,
    seasons: [...begins]
      .sort((a, b) => b - a)
      .map((fromMs) => {
        const begin = DateTime.fromMillis(fromMs, { zone: timeZone });
        const end = begin.plus({ months: MONTHS });
        const name = month === 1 ? `${begin.year}` : `${begin.year}/${end.toFormat('yy')}`;
        return { from: toInstant(fromMs), to: toInstant(end.toMillis()), name };
      }),
  };
}

function beginOf(atMs: number, timeZone: string, month: number): number {
  const at = DateTime.fromMillis(atMs, { zone: timeZone });
  const year = at.month < month ? at.year - 1 : at.year;
  return DateTime.fromObject({ year, month, day: 1 }, { zone: timeZone }).toMillis();
}
