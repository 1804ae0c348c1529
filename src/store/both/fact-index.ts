import type { Fact, FactKind } from '../../monitor/ports/facts.js';

/** When a fact happened, epoch ms; `nowMs` for the last will, which has no time. */
export function factAtMs(fact: Fact, nowMs: number): number {
  switch (fact.kind) {
    case 'reading':
      return fact.reading.observedAtMs;
    case 'forecast':
      return Date.parse(fact.forecast.at);
    case 'alarm':
      return Date.parse(fact.transition.at);
    case 'call':
      return Date.parse(fact.call.at);
    case 'round-notice':
      return Date.parse(fact.notice.at);
    case 'watering':
      return Date.parse(fact.watering.at);
    case 'tray-event':
    case 'tray-event-undone':
      return Date.parse(fact.event.at);
    case 'note-undone':
      return Date.parse(fact.note.at);
    case 'dry-down':
      return fact.dryDown.endedAtMs;
    case 'probe-drift':
      return fact.atMs;
    case 'note':
    case 'ask':
    case 'test-call':
    case 'test-seen':
      return Date.parse(fact.at);
    case 'answer':
      return Date.parse(fact.answer.at);
    case 'status':
      return fact.status.at === undefined ? nowMs : Date.parse(fact.status.at);
  }
}

/** The tray a fact is about, where it is about one. */
export function factTrayId(fact: Fact): string | undefined {
  switch (fact.kind) {
    case 'forecast':
      return fact.forecast.tray;
    case 'alarm':
      return fact.transition.tray;
    case 'watering':
      return fact.watering.tray;
    case 'tray-event':
    case 'tray-event-undone':
      return fact.event.tray;
    case 'dry-down':
      return fact.dryDown.trayId;
    case 'note':
      return fact.tray;
    case 'note-undone':
      return fact.note.tray;
    default:
      return undefined;
  }
}

const canWait: ReadonlySet<FactKind> = new Set(['reading', 'forecast', 'probe-drift', 'status']);

/** Readings and forecasts may wait a minute for their batch; everything else is durable at once. */
export function isUrgent(fact: Fact): boolean {
  return !canWait.has(fact.kind);
}
