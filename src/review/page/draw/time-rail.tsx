import { MS_PER_HOUR } from '../../../../shared/base/time-units.js';
import type { HoursQuantiles } from '../../../../shared/facts/forecast.js';
import type { FarmClockWords } from '../texts/farm-clock.js';

interface TimeRailProps {
  readonly range: HoursQuantiles;
  readonly forecastAtMs: number;
  readonly nowMs: number;
  readonly rounds: readonly string[];
  readonly clock: FarmClockWords;
}

/** The rail shows this much of the time ahead. */
const SHOWN_H = 36;

const place = (hours: number): number => Math.min(1, Math.max(0, hours / SHOWN_H)) * 100;

/**
 * The time ahead as a rail with the rounds as posts. The soil on it is dark while the driest blocks surely last, and
 * fades to dry across the range in which they will go. Decoration: the same stands in words beside it.
 */
export function TimeRail({ range, forecastAtMs, nowMs, rounds, clock }: TimeRailProps) {
  const elapsedH = (nowMs - forecastAtMs) / MS_PER_HOUR;
  const at = (hours: number | null): number => place(hours === null ? SHOWN_H : hours - elapsedH);
  const sure = at(range.p10);
  const middle = at(range.p50);
  const gone = at(range.p90);
  const posts = rounds
    .map((round) => ({ round, hours: (Date.parse(round) - nowMs) / MS_PER_HOUR }))
    .filter((post) => post.hours > 0.2 && post.hours < SHOWN_H - 2);
  return (
    <div class="rail" aria-hidden="true">
      <svg viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
        <rect class="rail-bed" width="100" height="10" />
        <rect class="rail-sure" width={sure} height="10" />
        <polygon class="rail-range" points={`${sure},0 ${gone},10 ${sure},10`} />
      </svg>
      {range.p50 !== null && middle < 100 && <i class="rail-middle" style={{ left: `${middle}%` }} />}
      {posts.map((post) => (
        <span key={post.round} class="rail-post" style={{ left: `${place(post.hours)}%` }}>
          {clock.timeOfDay(Date.parse(post.round)).replace(/:00$/, '')}
        </span>
      ))}
    </div>
  );
}
