import { MS_PER_MIN } from '../../../shared/base/time-units.js';
import type { RoundCalendar } from '../../watering/desk/round-calendar.js';

const FORECAST_MS = 60 * MS_PER_MIN;
/** How often alarms are decided; the model itself moves in steps of about this length. */
const DECISION_MS = 10 * MS_PER_MIN;

/**
 * Something that falls due. At one instant the decision comes first, so that a call does not wait for forecasts of trays that
 * nobody is called about; then those, then the notice.
 */
export type Due =
  | { readonly what: 'forecasts'; readonly atMs: number }
  | { readonly what: 'decision'; readonly atMs: number }
  | { readonly what: 'round-notice'; readonly atMs: number; readonly roundMs: number };

/** Where a schedule stands, JSON-able; `roundMs` absent: no round comes any more. */
export interface KeptSchedule {
  readonly forecastMs: number;
  readonly decisionMs: number;
  readonly notice?: { readonly atMs: number; readonly roundMs: number } | undefined;
  /** The last round that was given its notice. */
  readonly noticedMs?: number | undefined;
}

const NO_NOTICE = { atMs: Number.POSITIVE_INFINITY, roundMs: Number.POSITIVE_INFINITY };

/**
 * Decisions every ten minutes, forecasts at each full UTC hour, a notice before every round. A start between a notice's time and
 * its round gives that notice at once, unless `noticedRoundMs` says that it went out before: else a power cut at the wrong hour
 * would cost a round.
 */
export class Schedule {
  private forecastMs: number;
  private decisionMs: number;
  private notice: { readonly atMs: number; readonly roundMs: number };
  private noticedMs: number | undefined;

  constructor(
    startMs: number,
    private readonly rounds: RoundCalendar,
    private readonly noticeLeadMin: number,
    noticedRoundMs?: number,
  ) {
    this.forecastMs = Math.ceil(startMs / FORECAST_MS) * FORECAST_MS;
    this.decisionMs = Math.ceil(startMs / DECISION_MS) * DECISION_MS;
    // A notice that went out from a clock that was ahead silences nothing.
    const isKnown = noticedRoundMs !== undefined && noticedRoundMs <= startMs + noticeLeadMin * MS_PER_MIN;
    if (isKnown) this.noticedMs = noticedRoundMs;
    this.notice = this.noticeAfter(isKnown ? Math.max(startMs, noticedRoundMs) : startMs, startMs);
  }

  /** A schedule that goes on from where one stood. */
  static from(kept: KeptSchedule, rounds: RoundCalendar, noticeLeadMin: number): Schedule {
    const schedule = new Schedule(kept.decisionMs, rounds, noticeLeadMin);
    schedule.forecastMs = kept.forecastMs;
    schedule.notice = kept.notice ?? NO_NOTICE;
    schedule.noticedMs = kept.noticedMs;
    return schedule;
  }

  kept(): KeptSchedule {
    const { forecastMs, decisionMs, notice, noticedMs } = this;
    return {
      forecastMs,
      decisionMs,
      ...(Number.isFinite(notice.roundMs) ? { notice } : {}),
      ...(noticedMs === undefined ? {} : { noticedMs }),
    };
  }

  /** The last round that was given its notice, if any was. */
  get noticedRoundMs(): number | undefined {
    return this.noticedMs;
  }

  next(): Due {
    if (this.decisionMs <= this.forecastMs && this.decisionMs <= this.notice.atMs)
      return { what: 'decision', atMs: this.decisionMs };
    if (this.forecastMs <= this.notice.atMs) return { what: 'forecasts', atMs: this.forecastMs };
    return { what: 'round-notice', ...this.notice };
  }

  done(due: Due): void {
    if (due.what === 'forecasts') this.forecastMs = due.atMs + FORECAST_MS;
    else if (due.what === 'decision') this.decisionMs = due.atMs + DECISION_MS;
    else {
      this.notice = this.noticeAfter(due.roundMs, due.atMs);
      this.noticedMs = due.roundMs;
    }
  }

  /** The notice of the next round after `roundMs`, no earlier than `fromMs`. */
  private noticeAfter(roundMs: number, fromMs: number): { readonly atMs: number; readonly roundMs: number } {
    const nextMs = this.rounds.after(roundMs, 1)[0] ?? Number.POSITIVE_INFINITY;
    return { atMs: Math.max(nextMs - this.noticeLeadMin * MS_PER_MIN, fromMs), roundMs: nextMs };
  }
}
