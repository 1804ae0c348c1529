import { MS_PER_DAY } from '../../../../../shared/base/time-units.js';
import { useHouse } from '../../house/house.js';

/** Spans offered by one press, days. */
export const SPAN_DAYS = [3, 14, 60, 366] as const;

/** A span of time as the views keep it: days back from now, or two days of the calendar. */
export type ChosenSpan = { readonly days: number } | { readonly fromDay: string; readonly toDay: string };

/** The span as a request's `from` and `to`. Days of the calendar are taken as UTC midnights plus a day at each end. */
export function spanQuery(span: ChosenSpan, nowMs: number): string {
  const ends =
    'days' in span
      ? { fromMs: nowMs - span.days * MS_PER_DAY, toMs: nowMs }
      : { fromMs: Date.parse(span.fromDay), toMs: Date.parse(span.toDay) + MS_PER_DAY };
  return new URLSearchParams({
    from: new Date(ends.fromMs).toISOString(),
    to: new Date(ends.toMs).toISOString(),
  }).toString();
}

interface SpanBarProps {
  readonly span: ChosenSpan;
  readonly nowMs: number;
  readonly onSpan: (span: ChosenSpan) => void;
}

const dayOf = (atMs: number): string => new Date(atMs).toISOString().slice(0, 10);

/** Which time a view looks at. */
export function SpanBar({ span, nowMs, onSpan }: SpanBarProps) {
  const { texts } = useHouse();
  const words = texts.review.span;
  const fromDay = 'days' in span ? dayOf(nowMs - span.days * MS_PER_DAY) : span.fromDay;
  const toDay = 'days' in span ? dayOf(nowMs) : span.toDay;
  return (
    <fieldset class="span-bar">
      <legend class="spoken">{words.title}</legend>
      <div class="choices">
        {SPAN_DAYS.map((days) => (
          <button
            key={days}
            type="button"
            class="press press-small"
            aria-pressed={'days' in span && span.days === days}
            onClick={() => onSpan({ days })}
          >
            {words.days(days)}
          </button>
        ))}
      </div>
      <details class="span-own" open={!('days' in span)}>
        <summary>{words.own}</summary>
        <div class="field-row">
          <label class="field">
            <span>{words.from}</span>
            <input
              type="date"
              value={fromDay}
              max={toDay}
              onChange={(event) => {
                const day = event.currentTarget.value;
                if (day !== '' && day <= toDay) onSpan({ fromDay: day, toDay });
              }}
            />
          </label>
          <label class="field">
            <span>{words.to}</span>
            <input
              type="date"
              value={toDay}
              min={fromDay}
              onChange={(event) => {
                const day = event.currentTarget.value;
                if (day !== '' && day >= fromDay) onSpan({ fromDay, toDay: day });
              }}
            />
          </label>
        </div>
      </details>
    </fieldset>
  );
}
