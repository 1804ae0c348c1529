import type { ReviewQueries } from '../../../monitor/ports/ports.js';

const SINCE_EVER_MS = 0;
const MOST_FACTS = 200_000;

/** Every tray that ever came into the house, by what the store has up to `nowMs`. */
export async function knownTrays(queries: ReviewQueries, nowMs: number): Promise<ReadonlySet<string>> {
  const span = { fromMs: SINCE_EVER_MS, toMs: nowMs + 1 };
  const facts = await queries.facts(['tray-event'], span, MOST_FACTS);
  return new Set(
    facts.flatMap((fact) =>
      fact.kind === 'tray-event' && fact.undone !== true && fact.event.event === 'new'
        ? [fact.event.tray]
        : [],
    ),
  );
}
