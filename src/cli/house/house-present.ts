import type { Forecast } from '../../../shared/forecast.js';
import type { Fact } from '../../monitor/facts.js';
import type { ReviewQueries } from '../../monitor/ports.js';

const SINCE_EVER_MS = 0;
const MOST_FACTS = 200_000;

/** The newest of what the pipeline told that the desk does not keep: forecasts, and every tray there ever was. */
export class HousePresent {
  readonly forecasts = new Map<string, Forecast>();
  /** Every tray that ever came into the house. */
  readonly knownTrays = new Set<string>();

  /** What was told before this process started. */
  async lookBack(queries: ReviewQueries, nowMs: number): Promise<void> {
    const span = { fromMs: SINCE_EVER_MS, toMs: nowMs + 1 };
    for (const fact of await queries.facts(['tray-event'], span, MOST_FACTS)) this.take(fact);
  }

  take(fact: Fact): void {
    if (fact.kind === 'forecast') this.forecasts.set(fact.forecast.tray, fact.forecast);
    if (fact.kind !== 'tray-event' || fact.undone === true) return;
    const { event } = fact;
    if (event.event === 'new') this.knownTrays.add(event.tray);
    if (event.event === 'ended' || event.event === 'potted-on') this.forecasts.delete(event.tray);
  }
}
