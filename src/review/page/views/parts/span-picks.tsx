import { MS_PER_DAY } from '../../../../../shared/base/time-units.js';
import type { CyclesAnswer } from '../../../../../shared/page/page-season.js';
import { clockOf, useHouse, useStore } from '../../house/house.js';
import { useAnswer } from '../../house/use-answer.js';
import { weeksBefore } from '../../texts/weeks.js';
import { ChoiceRow } from './choice-row.js';
import type { ChosenSpan } from './span-query.js';

const WEEKS_SHOWN = 53;

interface SpanPicksProps {
  readonly span: ChosenSpan;
  readonly nowMs: number;
  readonly onSpan: (span: ChosenSpan) => void;
  readonly onCrop: ((crop: string) => void) | undefined;
}

/** A span by its week, or by a crop from its sowing until its last tray left. */
export function SpanPicks({ span, nowMs, onSpan, onCrop }: SpanPicksProps) {
  const { store, texts } = useHouse();
  const { present } = useStore(store);
  const words = texts.review.span;
  const { answer } = useAnswer<CyclesAnswer>('/api/cycles');
  if (present === undefined) return null;
  const clock = clockOf(present, texts);
  const weeks = weeksBefore(clock.dayKey(nowMs), WEEKS_SHOWN);
  const noon = (day: string): number => Date.parse(day) + MS_PER_DAY / 2;
  const cycles = (answer?.cycles ?? []).map((cycle) => ({
    ...cycle,
    fromDay: clock.dayKey(Date.parse(cycle.from)),
    toDay: clock.dayKey(Date.parse(cycle.to)),
  }));
  const keyOf = (one: { readonly fromDay: string; readonly toDay: string }, of = ''): string =>
    `${one.fromDay} ${one.toDay} ${of}`;
  const chosen = 'days' in span ? undefined : span;
  const chosenCycle = cycles.find((one) => chosen !== undefined && keyOf(one) === keyOf(chosen));
  return (
    <div class="field-row">
      <ChoiceRow
        name={words.week}
        none={words.noWeek}
        options={weeks.map((week) => ({
          value: keyOf(week),
          words: words.weekOf(
            week.number,
            clock.shortDay(noon(week.fromDay)),
            clock.shortDay(noon(week.toDay)),
          ),
        }))}
        chosen={weeks.map((week) => keyOf(week)).find((key) => chosen !== undefined && key === keyOf(chosen))}
        onChoose={(key) => {
          const week = weeks.find((one) => keyOf(one) === key);
          if (week !== undefined) onSpan({ fromDay: week.fromDay, toDay: week.toDay });
        }}
      />
      <ChoiceRow
        name={words.cycle}
        none={words.noWeek}
        options={cycles.map((cycle) => ({
          value: keyOf(cycle, cycle.crop),
          words: words.cycleOf(
            cycle.crop,
            texts.houses.trays(cycle.trayCount),
            clock.shortDay(Date.parse(cycle.from)),
            cycle.isOver ? clock.shortDay(Date.parse(cycle.to)) : undefined,
          ),
        }))}
        chosen={chosenCycle && keyOf(chosenCycle, chosenCycle.crop)}
        onChoose={(key) => {
          const cycle = cycles.find((one) => keyOf(one, one.crop) === key);
          if (cycle === undefined) return;
          onSpan({ fromDay: cycle.fromDay, toDay: cycle.toDay });
          onCrop?.(cycle.crop);
        }}
      />
    </div>
  );
}
