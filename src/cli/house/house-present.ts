import type { AlarmTransition } from '../../../shared/alarm.js';
import type { FarmConfig } from '../../../shared/config/farm.js';
import type { Forecast } from '../../../shared/forecast.js';
import type { RoundNotice } from '../../../shared/round-notice.js';
import type { Fact } from '../../monitor/facts.js';
import type { ReviewQueries } from '../../monitor/ports.js';

const LOOK_BACK_MS = 400 * 86_400_000;
const MOST_FACTS = 200_000;

function alarmKey({ kind, tray, bench, source }: AlarmTransition): string {
  return `${kind}/${tray ?? bench ?? source ?? ''}`;
}

/** The newest of what the pipeline told, by what it is about: what page, terminal and lamp show as the present. */
export class HousePresent {
  readonly forecasts = new Map<string, Forecast>();
  /** Last transition of every alarm that is not normal. */
  readonly standing = new Map<string, AlarmTransition>();
  readonly probeTrays = new Map<string, string>();
  notice: RoundNotice | undefined;

  constructor(config: FarmConfig) {
    for (const probe of config.probes) {
      if ('tray' in probe && probe.tray !== undefined) this.probeTrays.set(probe.id, probe.tray);
    }
  }

  /** What was told before this process started. */
  async lookBack(queries: ReviewQueries, nowMs: number): Promise<void> {
    const span = { fromMs: nowMs - LOOK_BACK_MS, toMs: nowMs };
    for (const fact of await queries.facts(['alarm', 'round-notice', 'tray-event'], span, MOST_FACTS))
      this.take(fact);
  }

  take(fact: Fact): void {
    switch (fact.kind) {
      case 'forecast':
        this.forecasts.set(fact.forecast.tray, fact.forecast);
        break;
      case 'alarm':
        if (fact.transition.state === 'normal') this.standing.delete(alarmKey(fact.transition));
        else this.standing.set(alarmKey(fact.transition), fact.transition);
        break;
      case 'round-notice':
        this.notice = fact.notice;
        break;
      case 'tray-event':
        if (fact.event.event === 'attached') this.probeTrays.set(fact.event.probe, fact.event.tray);
        if (fact.event.event === 'ended') this.forecasts.delete(fact.event.tray);
        if (fact.event.event === 'potted-on') this.forecasts.delete(fact.event.tray);
        break;
      default:
        break;
    }
  }
}
