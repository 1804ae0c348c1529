import type { TrayEvent } from '../../../../shared/facts/tray-life.js';
import type { DryDownSummary } from '../../../drying/curves/kept-dry-down.js';
import type { Database, Statement } from '../../../host/disk/sqlite.js';
import type { Fact, FactKind } from '../../../monitor/ports/facts.js';
import type { Span } from '../../../monitor/ports/ports.js';
import { curveApart, withCurve } from '../../both/curve-apart.js';
import { factTrayId } from '../../both/fact-index.js';
import { canBeUndone, isSameEvent, isSameNote, isWateringOf } from '../../both/strike-out.js';
import { bodyCheck, isAsWritten } from './body-check.js';
import { fromCurveBytes, toCurveBytes } from './curve-bytes.js';
import { readableRows } from './readable-rows.js';

interface Row {
  readonly id: number;
  readonly body: string;
  readonly struckOut: number;
  readonly checkWord: number | null;
  readonly curve?: Uint8Array | null;
}

/** id, time, body, struck out, check word, curve: lists, since a season's facts are read at once and objects cost as much again. */
type DatedRow = readonly [
  id: number,
  atMs: number,
  body: string,
  struckOut: number,
  checkWord: number | null,
  curve?: Uint8Array | null,
];

/** Puts everything but readings and forecasts into the journal, one row a fact, the body as JSON. */
export class FactWriter {
  readonly #insert: Statement;
  readonly #standing: Statement<unknown[], Row>;
  readonly #strike: Statement;

  constructor(db: Database) {
    this.#insert = db.prepare(
      'INSERT INTO fact (at_ms, kind, tray_id, body, curve, check_word) VALUES (?, ?, ?, ?, ?, ?)',
    );
    this.#standing = db.prepare<unknown[], Row>(
      `SELECT id, body, struck_out AS struckOut, check_word AS checkWord FROM fact
       WHERE kind = ? AND at_ms = ? AND tray_id IS ? AND struck_out = 0 ORDER BY id DESC`,
    );
    this.#strike = db.prepare('UPDATE fact SET struck_out = 1 WHERE id = ?');
  }

  put(fact: Fact, atMs: number): void {
    if (fact.kind === 'tray-event-undone') this.#strikeOut(fact.event, atMs);
    if (fact.kind === 'note-undone') {
      const { note } = fact;
      this.#strikeNewest('note', atMs, note.tray, (kept) => isSameNote(kept, note));
    }
    const { fact: body, samples } = curveApart(fact);
    const curve = samples === undefined ? null : toCurveBytes(samples);
    const text = JSON.stringify(body);
    this.#insert.run(atMs, fact.kind, factTrayId(fact) ?? null, text, curve, bodyCheck(text));
  }

  #strikeOut(event: TrayEvent, atMs: number): void {
    this.#strikeNewest(
      'tray-event',
      atMs,
      event.tray,
      (fact) => fact.kind === 'tray-event' && isSameEvent(fact.event, event),
    );
    this.#strikeNewest('watering', atMs, event.tray, (fact) => isWateringOf(fact, event));
  }

  #strikeNewest(
    kind: FactKind,
    atMs: number,
    trayId: string | undefined,
    matches: (fact: Fact) => boolean,
  ): void {
    const rows = this.#standing.all(kind, atMs, trayId ?? null);
    const row = rows.find((one) => readableRows([one], toFact).some(matches));
    if (row !== undefined) this.#strike.run(row.id);
  }
}

/**
 * Bodies were facts when they were written, by this program or an older one whose changes migrations carry over; undefined for one
 * of which bytes were changed since.
 */
function parseFact(body: string, checkWord: number | null): Fact | undefined {
  if (!isAsWritten(body, checkWord)) return undefined;
  const fact: Fact = JSON.parse(body);
  return fact;
}

function toFact({ body, struckOut, checkWord, curve }: Row): Fact | undefined {
  const fact = parseFact(body, checkWord);
  if (fact === undefined) return undefined;
  if (curve !== undefined && curve !== null) return withCurve({ fact, samples: fromCurveBytes(curve) });
  if (struckOut === 0 || !canBeUndone(fact)) return fact;
  return { ...fact, undone: true };
}

/** The newest `limit` facts of these kinds within the span, of one tray where it is named; oldest first, curves included. */
export function readFacts(
  db: Database,
  kinds: readonly FactKind[],
  span: Span,
  limit: number,
  trayId?: string,
): readonly Fact[] {
  const newestOf = (kind: FactKind) =>
    db
      .prepare<unknown[], DatedRow>(
        `SELECT id, at_ms, body, struck_out, check_word${kind === 'dry-down' ? ', curve' : ''} FROM fact
         WHERE kind = ? AND at_ms >= ? AND at_ms < ?${trayId === undefined ? '' : ' AND tray_id = ?'}
         ORDER BY at_ms DESC, id DESC LIMIT ?`,
      )
      .raw();
  const ofTray = trayId === undefined ? [] : [trayId];
  // One kind comes in order out of the index; all at once SQLite would sort with the bodies in its hands.
  const rows = [...new Set(kinds)]
    .flatMap((kind) => newestOf(kind).all(kind, span.fromMs, span.toMs, ...ofTray, limit))
    .sort((a, b) => a[1] - b[1] || a[0] - b[0])
    .slice(-limit);
  return readableRows(rows, ([id, , body, struckOut, checkWord, curve]) =>
    toFact({ id, body, struckOut, checkWord, curve: curve ?? null }),
  );
}

/** Dry-downs that ended within the span, oldest first, without their curves. */
export function readDryDownSummaries(db: Database, span: Span): readonly DryDownSummary[] {
  const rows = db
    .prepare<unknown[], readonly [body: string, checkWord: number | null]>(
      "SELECT body, check_word FROM fact WHERE kind = 'dry-down' AND at_ms >= ? AND at_ms < ? ORDER BY at_ms, id",
    )
    .raw()
    .all(span.fromMs, span.toMs);
  return readableRows(rows, ([body, checkWord]) => parseFact(body, checkWord))
    .map((fact) => curveApart(fact).fact)
    .flatMap((fact) => (fact.kind === 'dry-down' ? [fact.dryDown] : []));
}

/** Events of one tray that nobody undid. */
export function readStandingEvents(db: Database, trayId: string): readonly TrayEvent[] {
  const rows = db
    .prepare<unknown[], Row>(
      `SELECT id, body, struck_out AS struckOut, check_word AS checkWord FROM fact
       WHERE kind = 'tray-event' AND tray_id = ? AND struck_out = 0 ORDER BY at_ms, id`,
    )
    .all(trayId);
  return readableRows(rows, toFact).flatMap((fact) => (fact.kind === 'tray-event' ? [fact.event] : []));
}

/** Kind under which journal entries lie of which bytes were changed: nobody asks for it. */
const UNREADABLE = 'unreadable';

/** Takes entries out of the journal that are not what was written; they stay in the table. Returns how many there are. */
export function setUnreadableApart(db: Database): number {
  const apart = db.prepare('UPDATE fact SET kind = ? WHERE id = ?');
  const rows = db
    .prepare<unknown[], Row>(
      `SELECT id, body, struck_out AS struckOut, check_word AS checkWord FROM fact WHERE kind <> '${UNREADABLE}'`,
    )
    .iterate();
  const ids: number[] = [];
  for (const row of rows) if (readableRows([row], toFact).length === 0) ids.push(row.id);
  db.transaction(() => {
    for (const id of ids) apart.run(UNREADABLE, id);
  })();
  return ids.length;
}

/** Journal entries that were taken out because they can't be read. */
export function unreadableCount(db: Database): number {
  return (
    db.prepare<unknown[], number>(`SELECT count(*) FROM fact WHERE kind = '${UNREADABLE}'`).pluck().get() ?? 0
  );
}
