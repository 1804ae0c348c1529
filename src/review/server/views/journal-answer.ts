import type { JournalAnswer } from '../../../../shared/page/page-journal.js';
import type { FactKind } from '../../../monitor/ports/facts.js';
import type { ReviewQueries, Span } from '../../../monitor/ports/ports.js';
import { poursOnce } from '../../../monitor/ports/pours-once.js';
import { spokenFact } from '../../../monitor/ports/spoken-fact.js';
import type { DeskSentences } from '../../../watering/sentences/said/desk-sentences.js';
import { JOURNAL_KINDS, journalEntryOf, type UndoRule } from '../../feed/journal-entry.js';
import { Refusal } from '../http/respond.js';

/** Kinds that a request asks for; all of them when it names none. */
export function askedKinds(query: URLSearchParams): readonly FactKind[] {
  const names = query.get('kinds')?.split(',');
  if (names === undefined) return JOURNAL_KINDS;
  return names.map((name) => {
    const kind = JOURNAL_KINDS.find((one) => one === name);
    if (kind === undefined)
      throw new Refusal(
        400,
        'unknown-kind',
        `The journal has no "${name.slice(0, 40)}"; it has ${JOURNAL_KINDS.join(', ')}.`,
      );
    return kind;
  });
}

/** The newest lines of the journal within the span, newest first. `say`: the farm's words. */
export async function journalAnswer(
  queries: ReviewQueries,
  span: Span,
  say: DeskSentences,
  kinds: readonly FactKind[],
  limit: number,
  rule?: UndoRule,
): Promise<JournalAnswer> {
  const facts = await queries.facts(kinds, span, limit + 1);
  const newest = [...poursOnce(facts.slice(-limit))].reverse();
  return {
    entries: newest.flatMap((fact) => journalEntryOf(spokenFact(fact, say), say, rule) ?? []),
    more: facts.length > limit,
  };
}
