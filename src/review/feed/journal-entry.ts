import { toInstant } from '../../../shared/base/ids.js';
import type { JournalEntry, JournalUndo } from '../../../shared/page/page-journal.js';
import type { MayUndo } from '../../monitor/day/undo-rule.js';
import type { FactKind } from '../../monitor/ports/facts.js';
import type { SpokenFact } from '../../monitor/ports/spoken-fact.js';
import type { DeskSentences } from '../../watering/sentences/said/desk-sentences.js';
import { sayIn } from '../../watering/sentences/spoken.js';

/** The kinds of fact that the journal tells; readings, forecasts and dry-downs have views of their own. */
export const JOURNAL_KINDS = [
  'alarm',
  'call',
  'round-notice',
  'watering',
  'tray-event',
  'tray-event-undone',
  'note',
  'note-undone',
  'ask',
  'probe-drift',
  'status',
] as const satisfies readonly FactKind[];

export type UndoRule = (ref: string) => MayUndo | undefined;

/**
 * A fact as a line of the journal, with its undo where somebody told it and the rule knows it; undefined for facts that it does not
 * tell, and for a status without a time.
 */
export function journalEntryOf(
  fact: SpokenFact,
  say: DeskSentences,
  rule?: UndoRule,
): JournalEntry | undefined {
  const entry = bareEntry(fact);
  if (entry === undefined || !('ref' in fact) || fact.ref === undefined) return entry;
  const undo = undoOf(fact.ref, rule?.(fact.ref), say);
  return undo === undefined || ('undone' in entry && entry.undone) ? entry : { ...entry, undo };
}

function undoOf(ref: string, may: MayUndo | undefined, say: DeskSentences): JournalUndo | undefined {
  if (may === undefined) return undefined;
  return 'stays' in may ? { ref, stays: sayIn(may.stays.said, say) } : { ref, until: toInstant(may.untilMs) };
}

function bareEntry(fact: SpokenFact): JournalEntry | undefined {
  switch (fact.kind) {
    case 'alarm':
      return { kind: 'alarm', at: fact.transition.at, transition: fact.transition };
    case 'call':
      return { kind: 'call', at: fact.call.at, call: fact.call };
    case 'round-notice':
      return { kind: 'round-notice', at: fact.notice.at, notice: fact.notice };
    case 'watering': {
      const { ref: _, ...watering } = fact;
      return { at: fact.watering.at, ...watering };
    }
    case 'tray-event': {
      // A pour is told by its watering; the tray's own event of it would say it twice.
      if (fact.event.event === 'watered') return undefined;
      const { ref: _, ...event } = fact;
      return { at: fact.event.at, ...event };
    }
    case 'tray-event-undone':
      return { kind: fact.kind, at: fact.event.at, event: fact.event };
    case 'note': {
      const { ref: _, ...note } = fact;
      return note;
    }
    case 'note-undone':
      return { kind: fact.kind, at: fact.note.at, note: fact.note };
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
