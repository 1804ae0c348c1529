import { toInstant } from '../../../shared/base/ids.js';
import type { JournalEntry } from '../../../shared/page/page-journal.js';
import type { Fact, FactKind } from '../../monitor/ports/facts.js';

/** The kinds of fact that the journal tells; readings, forecasts and dry-downs have views of their own. */
export const JOURNAL_KINDS = [
  'alarm',
  'call',
  'round-notice',
  'watering',
  'tray-event',
  'tray-event-undone',
  'note',
  'ask',
  'probe-drift',
  'status',
] as const satisfies readonly FactKind[];

/** A fact as a line of the journal; undefined for facts that it does not tell, and for a status without a time. */
export function journalEntryOf(fact: Fact): JournalEntry | undefined {
  switch (fact.kind) {
    case 'alarm':
      return { kind: 'alarm', at: fact.transition.at, transition: fact.transition };
    case 'call':
      return { kind: 'call', at: fact.call.at, call: fact.call };
    case 'round-notice':
      return { kind: 'round-notice', at: fact.notice.at, notice: fact.notice };
    case 'watering':
    case 'tray-event':
      // A pour is told by its watering; the tray's own event of it would say it twice.
      if (fact.kind === 'tray-event' && fact.event.event === 'watered') return undefined;
      return { at: fact.kind === 'watering' ? fact.watering.at : fact.event.at, ...fact };
    case 'tray-event-undone':
      return { kind: fact.kind, at: fact.event.at, event: fact.event };
    case 'note':
      return { ...fact };
    case 'ask':
      return { ...fact, trays: [...fact.trays] };
    case 'probe-drift':
      return {
        kind: 'probe-drift',
        at: toInstant(fact.atMs),
        probe: fact.probeId,
        driftM3PerM3: fact.driftM3PerM3,
      };
    case 'status':
      return fact.status.at === undefined
        ? undefined
        : { kind: 'status', at: fact.status.at, status: fact.status };
    case 'test-call':
    case 'test-seen':
    case 'answer':
    case 'reading':
    case 'forecast':
    case 'dry-down':
      return undefined;
  }
}
