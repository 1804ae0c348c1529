import type { RoundCalendar } from '../watering/round-calendar.js';

const MS_PER_MIN = 60_000;
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

/** Decisions every ten minutes, forecasts at each full UTC hour, a notice before every round. */
export class Schedule {
  private forecastMs: number;
  private decisionMs: number;
  private notice: { readonly atMs: number; readonly roundMs: number };

  constructor(
    startMs: number,
    private readonly rounds: RoundCalendar,
    private readonly noticeLeadMin: number,
  ) {
    this.forecastMs = Math.ceil(startMs / FORECAST_MS) * FORECAST_MS;
    this.decisionMs = Math.ceil(startMs / DECISION_MS) * DECISION_MS;
    this.notice = this.noticeAfter(startMs - 1);
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
    else this.notice = this.noticeAfter(due.atMs);
  }

  private noticeAfter(atMs: number): { readonly atMs: number; readonly roundMs: number } {
    const leadMs = this.noticeLeadMin * MS_PER_MIN;
    const roundMs = this.rounds.after(atMs + leadMs, 1)[0] ?? Number.POSITIVE_INFINITY;
    return { atMs: roundMs - leadMs, roundMs };
  }
}
