import { useState } from 'preact/hooks';
import { MS_PER_DAY } from '../../../../../shared/base/time-units.js';
import { useHouse } from '../../house/house.js';
import { SpanPicks } from './span-picks.js';
import type { ChosenSpan } from './span-query.js';

/** Spans offered by one press, days. */
export const SPAN_DAYS = [3, 14, 60, 366] as const;

interface SpanBarProps {
  readonly span: ChosenSpan;
  readonly nowMs: number;
  readonly onSpan: (span: ChosenSpan) => void;
  /** The crop whose cycle was chosen, where a view can look at one crop alone. */
  readonly onCrop?: (crop: string) => void;
}

const dayOf = (atMs: number): string => new Date(atMs).toISOString().slice(0, 10);

/** Which time a view looks at. */
export function SpanBar({ span, nowMs, onSpan, onCrop }: SpanBarProps) {
  const { texts } = useHouse();
  const words = texts.review.span;
  const [isOpen, setOpen] = useState(!('days' in span));
  const fromDay = 'days' in span ? dayOf(nowMs - span.days * MS_PER_DAY) : span.fromDay;
  const toDay = 'days' in span ? dayOf(nowMs) : span.toDay;
  return (
    <fieldset class="span-bar">
      <legend class="spoken">{words.title}</legend>
      <p class="printed">{`${fromDay} – ${toDay}`}</p>
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
      <details class="span-own" open={isOpen} onToggle={(event) => setOpen(event.currentTarget.open)}>
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
        {isOpen && <SpanPicks span={span} nowMs={nowMs} onSpan={onSpan} onCrop={onCrop} />}
      </details>
    </fieldset>
  );
}
