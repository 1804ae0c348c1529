import { MS_PER_DAY } from '../../../../../shared/base/time-units.js';
import type { PagePresent } from '../../../../../shared/page/page-present.js';
import type { CyclesAnswer, SeasonsAnswer } from '../../../../../shared/page/page-season.js';
import { clockOf } from '../../house/house.js';
import type { Texts } from '../../texts/texts.js';
import { weeksBefore } from '../../texts/weeks.js';

/** What is summed up and laid beside its like: a whole season, a week, a crop from its sowing to its end. */
export const SUM_KINDS = ['season', 'week', 'cycle'] as const;
export type SumKind = (typeof SUM_KINDS)[number];

/** A span with its name; with a crop, the trays of that crop alone. */
export interface NamedSpan {
  readonly from: string;
  readonly to: string;
  readonly name: string;
  readonly crop?: string;
}

/** A year of weeks and the same week of the year before. */
const WEEKS_SHOWN = 53;
/** More beside one make a table that nobody reads (judgement). */
const MOST_BESIDE = 8;

export const keyOf = ({ from, to, crop = '' }: NamedSpan): string => `${from} ${to} ${crop}`;

/** The query that asks for a span. */
export function queryOf({ from, to, crop }: NamedSpan): string {
  return new URLSearchParams({ from, to, ...(crop === undefined ? {} : { crop }) }).toString();
}

/** The weeks up to now, newest first. */
export function weekSpans(present: PagePresent, texts: Texts): NamedSpan[] {
  const clock = clockOf(present, texts);
  const noon = (day: string): number => Date.parse(day) + MS_PER_DAY / 2;
  return weeksBefore(clock.dayKey(Date.parse(present.at)), WEEKS_SHOWN).map(({ number, fromDay, toDay }) => ({
    from: new Date(fromDay).toISOString(),
    to: new Date(Date.parse(toDay) + MS_PER_DAY).toISOString(),
    name: texts.review.span.weekOf(number, clock.shortDay(noon(fromDay)), clock.shortDay(noon(toDay))),
  }));
}

/** The crops that were raised, newest first. */
export function cycleSpans(
  { cycles }: CyclesAnswer,
  present: PagePresent,
  texts: Texts,
): (NamedSpan & { readonly crop: string })[] {
  const clock = clockOf(present, texts);
  const year = (at: string): number => new Date(at).getUTCFullYear();
  return cycles.map(({ crop, from, to, isOver }) => {
    const ends = [clock.shortDay(Date.parse(from)), isOver ? clock.shortDay(Date.parse(to)) : undefined];
    const other = year(from) === year(present.at) ? '' : ` ${year(from)}`;
    return { crop, from, to, name: `${texts.season.cycleOf(crop, ends[0] ?? '', ends[1])}${other}` };
  });
}

/** The seasons as the house names them. */
export const seasonSpans = ({ seasons }: SeasonsAnswer): NamedSpan[] =>
  seasons.map(({ from, to, name }) => ({ from, to, name }));

/** What may stand beside one: its like first, the nearest before it, and for a week the same of last year. */
export function besideOf(all: readonly NamedSpan[], chosen: NamedSpan): readonly NamedSpan[] {
  const place = all.findIndex((one) => keyOf(one) === keyOf(chosen));
  const others = [...all.slice(place + 1), ...all.slice(0, Math.max(0, place)).reverse()];
  const isLike = (one: NamedSpan): boolean => one.crop === chosen.crop;
  const ranked = [...others.filter(isLike), ...others.filter((one) => !isLike(one))];
  const yearBefore = all[place + WEEKS_SHOWN - 1];
  const near = ranked.slice(0, MOST_BESIDE);
  return yearBefore === undefined || near.includes(yearBefore) ? near : [...near.slice(0, -1), yearBefore];
}
