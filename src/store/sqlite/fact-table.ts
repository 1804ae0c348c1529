import type { Database, Statement } from 'better-sqlite3';
import type { TrayEvent } from '../../../shared/tray-life.js';
import type { DryDownSummary } from '../../drying/curves/kept-dry-down.js';
import type { Fact, FactKind } from '../../monitor/facts.js';
import type { Span } from '../../monitor/ports.js';
import { curveApart, withCurve } from '../curve-apart.js';
import { factTrayId } from '../fact-index.js';
import { isSameEvent, isWateringOf } from '../strike-out.js';
import { fromCurveBytes, toCurveBytes } from './curve-bytes.js';

interface Row {
  readonly id: number;
  readonly body: string;
  readonly struckOut: number;
  readonly curve?: Buffer | null;
}

/** id, time, body, struck out, curve: rows as lists, since a season's facts are read at once and objects cost as much again. */
type DatedRow = readonly [id: number, atMs: number, body: string, struckOut: number, curve?: Buffer | null];

/** Puts everything but readings and forecasts into the journal, one row a fact, the body as JSON. */
export class FactWriter {
  readonly #insert: Statement;
  readonly #standing: Statement<unknown[], Row>;
  readonly #strike: Statement;

  constructor(db: Database) {
    this.#insert = db.prepare('INSERT INTO fact (at_ms, kind, tray_id, body, curve) VALUES (?, ?, ?, ?, ?)');
    this.#standing = db.prepare<unknown[], Row>(
      `SELECT id, body, struck_out AS struckOut FROM fact
       WHERE kind = ? AND at_ms = ? AND tray_id = ? AND struck_out = 0 ORDER BY id DESC`,
    );
    this.#strike = db.prepare('UPDATE fact SET struck_out = 1 WHERE id = ?');
  }

  put(fact: Fact, atMs: number): void {
    if (fact.kind === 'tray-event-undone') this.#strikeOut(fact.event, atMs);
    const { fact: body, samples } = curveApart(fact);
    const curve = samples === undefined ? null : toCurveBytes(samples);
    this.#insert.run(atMs, fact.kind, factTrayId(fact) ?? null, JSON.stringify(body), curve);
  }

  #strikeOut(event: TrayEvent, atMs: number): void {
    const strikeNewest = (kind: FactKind, matches: (fact: Fact) => boolean) => {
      const row = this.#standing.all(kind, atMs, event.tray).find(({ body }) => matches(parseFact(body)));
      if (row !== undefined) this.#strike.run(row.id);
    };
    strikeNewest('tray-event', (fact) => fact.kind === 'tray-event' && isSameEvent(fact.event, event));
    strikeNewest('watering', (fact) => isWateringOf(fact, event));
  }
}

/** Bodies were facts when they were written, by this program or an older one whose changes migrations carry over. */
function parseFact(body: string): Fact {
  const fact: Fact = JSON.parse(body);
  return fact;
}

function toFact({ body, struckOut, curve }: Row): Fact {
  const fact = parseFact(body);
  if (curve !== undefined && curve !== null) return withCurve({ fact, samples: fromCurveBytes(curve) });
  if (struckOut === 0 || (fact.kind !== 'tray-event' && fact.kind !== 'watering')) return fact;
  return { ...fact, undone: true };
}

/** The newest `limit` facts of these kinds within the span, oldest first, curves included. */
export function readFacts(
  db: Database,
  kinds: readonly FactKind[],
  span: Span,
  limit: number,
): readonly Fact[] {
  const newestOf = (kind: FactKind) =>
    db
      .prepare<unknown[], DatedRow>(
        `SELECT id, at_ms, body, struck_out${kind === 'dry-down' ? ', curve' : ''} FROM fact
         WHERE kind = ? AND at_ms >= ? AND at_ms < ? ORDER BY at_ms DESC, id DESC LIMIT ?`,
      )
      .raw();
  // One kind comes in order out of the index; all at once SQLite would sort with the bodies in its hands.
  return [...new Set(kinds)]
    .flatMap((kind) => newestOf(kind).all(kind, span.fromMs, span.toMs, limit))
    .sort((a, b) => a[1] - b[1] || a[0] - b[0])
    .slice(-limit)
    .map(([id, , body, struckOut, curve]) => toFact({ id, body, struckOut, curve: curve ?? null }));
}

/** Dry-downs that ended within the span, oldest first, without their curves. */
export function readDryDownSummaries(db: Database, span: Span): readonly DryDownSummary[] {
  return db
    .prepare<unknown[], string>(
      "SELECT body FROM fact WHERE kind = 'dry-down' AND at_ms >= ? AND at_ms < ? ORDER BY at_ms, id",
    )
    .pluck()
    .all(span.fromMs, span.toMs)
    .map((body) => curveApart(parseFact(body)).fact)
    .flatMap((fact) => (fact.kind === 'dry-down' ? [fact.dryDown] : []));
}

/** Events of one tray that nobody undid. */
export function readStandingEvents(db: Database, trayId: string): readonly TrayEvent[] {
  return db
    .prepare<unknown[], Row>(
      `SELECT id, body, struck_out AS struckOut FROM fact
       WHERE kind = 'tray-event' AND tray_id = ? AND struck_out = 0 ORDER BY at_ms, id`,
    )
    .all(trayId)
    .map(toFact)
    .flatMap((fact) => (fact.kind === 'tray-event' ? [fact.event] : []));
}
