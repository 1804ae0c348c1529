import { type Database, SqliteError, type Statement } from '../../host/disk/sqlite.js';
import type { DurableMessage, WaitingKind } from './fact-messages.js';

/** A message that waits until the broker has it. */
export interface WaitingMessage extends DurableMessage {
  readonly seq: number;
  /** Wall clock, epoch ms, when it was put in. */
  readonly queuedAtMs: number;
}

interface Row {
  seq: number;
  id: string;
  kind: WaitingKind;
  topic: string;
  payload: string;
  retain: 0 | 1;
  queued_at_ms: number;
}

/** More than a farm says in a season without a broker; beyond it the oldest go first, and are counted. */
const MAX_WAITING = 100_000;
/** Confirmed messages that may pile up before one transaction removes them. */
const SETTLE_AT = 64;

function messageOf(row: Row): WaitingMessage {
  const { seq, id, kind, topic, payload, retain, queued_at_ms } = row;
  return { seq, id, kind, topic, payload, retain: retain === 1, queuedAtMs: queued_at_ms };
}

/**
 * What the broker has not confirmed. A message is on the disk when `add` returns; when the disk refuses, it is held in
 * memory, `trouble` says so, and it goes to the disk with the next `add` that succeeds.
 */
export class Outbox {
  readonly #database: Database;
  readonly #target: string;
  readonly #maxWaiting: number;
  readonly #insert: Statement;
  readonly #update: Statement;
  readonly #remove: Statement;
  readonly #select: Statement;
  readonly #keep: Statement;
  readonly #forget: Statement;
  readonly #retainedAt: Statement;
  readonly #done = new Set<number>();
  /** What the disk has not taken: messages, texts rewritten since, and what is retained (empty: cleared). */
  #unsaved: WaitingMessage[] = [];
  readonly #unsavedTexts = new Map<number, string>();
  readonly #unsavedRetained = new Map<string, string>();
  readonly #keepTurn: Statement;
  #turn: string | undefined;
  #isTurnUnsaved = false;
  #nextSeq: number;
  #waiting: number;
  #trouble: string | undefined;
  #droppedCount = 0;

  /** @param target for whom: "" the broker, else the id of a webhook */
  constructor(database: Database, target = '', maxWaiting = MAX_WAITING) {
    this.#database = database;
    this.#target = target;
    this.#maxWaiting = maxWaiting;
    this.#insert = database.prepare('INSERT INTO outgoing VALUES (?, ?, ?, ?, ?, ?, ?, ?)');
    this.#update = database.prepare('UPDATE outgoing SET payload = ? WHERE target = ? AND seq = ?');
    this.#remove = database.prepare('DELETE FROM outgoing WHERE target = ? AND seq = ?');
    this.#select = database.prepare(
      'SELECT * FROM outgoing WHERE target = ? AND seq > ? ORDER BY seq LIMIT ?',
    );
    this.#keep = database.prepare('INSERT OR REPLACE INTO retained VALUES (?, ?)');
    this.#forget = database.prepare('DELETE FROM retained WHERE topic = ?');
    this.#retainedAt = database.prepare('SELECT payload FROM retained WHERE topic = ?');
    this.#keepTurn = database.prepare('INSERT OR REPLACE INTO turn VALUES (?, ?)');
    this.#turn = database
      .prepare<[string], string>('SELECT id FROM turn WHERE target = ?')
      .pluck()
      .get(target);
    const row = database
      .prepare('SELECT coalesce(max(seq), 0) AS top, count(*) AS n FROM outgoing WHERE target = ?')
      .get(target) as { top: number; n: number };
    this.#nextSeq = row.top + 1;
    this.#waiting = row.n;
  }

  /** Messages not yet confirmed. */
  get waitingCount(): number {
    return this.#waiting;
  }

  /** Why messages are held in memory only; undefined when all is well. */
  get trouble(): string | undefined {
    return this.#trouble;
  }

  /** Oldest messages given up because too many waited. */
  get droppedCount(): number {
    return this.#droppedCount;
  }

  /** The turn that was taken last; undefined before the first. */
  get turn(): string | undefined {
    return this.#turn;
  }

  /**
   * Takes messages in order, in one transaction; even without any it tries again what the disk refused before.
   * @param turn whose last messages these are; noted in the same transaction
   */
  add(messages: readonly DurableMessage[], queuedAtMs: number, turn?: string): void {
    if (messages.length === 0 && this.#trouble === undefined && turn === undefined) return;
    if (turn !== undefined) {
      this.#turn = turn;
      this.#isTurnUnsaved = true;
    }
    for (const { topic, payload, retain } of messages) if (retain) this.#unsavedRetained.set(topic, payload);
    this.#unsaved.push(...messages.map((message) => ({ ...message, seq: this.#nextSeq++, queuedAtMs })));
    this.#waiting += messages.length;
    this.#save();
    this.#trim();
  }

  #save(): void {
    try {
      this.#database.transaction(() => {
        // first, since on a full disk what leaves makes room for what comes
        for (const seq of this.#done) this.#remove.run(this.#target, seq);
        for (const { seq, id, kind, topic, payload, retain, queuedAtMs } of this.#unsaved) {
          this.#insert.run(this.#target, seq, id, kind, topic, payload, retain ? 1 : 0, queuedAtMs);
        }
        for (const [topic, payload] of this.#unsavedRetained) {
          if (payload === '') this.#forget.run(topic);
          else this.#keep.run(topic, payload);
        }
        for (const [seq, payload] of this.#unsavedTexts) this.#update.run(payload, this.#target, seq);
        if (this.#isTurnUnsaved) this.#keepTurn.run(this.#target, this.#turn);
      })();
      this.#isTurnUnsaved = false;
      this.#unsaved = [];
      this.#unsavedTexts.clear();
      this.#unsavedRetained.clear();
      this.#done.clear();
      this.#trouble = undefined;
    } catch (cause) {
      this.#noteTrouble(cause);
    }
  }

  #trim(): void {
    const excess = this.#waiting - this.#maxWaiting;
    if (excess <= 0) return;
    const oldest = this.next(0, excess).map((message) => message.seq);
    this.delivered(oldest);
    this.#droppedCount += oldest.length;
  }

  /** Up to `limit` messages after this sequence number, oldest first. */
  next(afterSeq: number, limit: number): readonly WaitingMessage[] {
    const rows = this.#select.all(this.#target, afterSeq, limit + this.#done.size) as Row[];
    const saved = rows
      .filter((row) => !this.#done.has(row.seq))
      .map((row) => messageOf({ ...row, payload: this.#unsavedTexts.get(row.seq) ?? row.payload }));
    const unsaved = this.#unsaved.filter((message) => message.seq > afterSeq);
    return [...saved, ...unsaved].slice(0, limit);
  }

  /** The broker has these. They leave the disk at `settle`; a crash before it sends them again under the same id. */
  delivered(seqs: readonly number[]): void {
    for (const seq of seqs) this.#done.add(seq);
    this.#unsaved = this.#unsaved.filter((message) => !this.#done.has(message.seq));
    this.#waiting -= seqs.length;
    if (this.#done.size >= SETTLE_AT && this.#trouble === undefined) this.settle();
  }

  /** Removes what was delivered from the disk. */
  settle(): void {
    if (this.#done.size > 0) this.#save();
  }

  #noteTrouble(cause: unknown): void {
    if (!(cause instanceof SqliteError)) throw cause;
    this.#trouble = `the outbox cannot be written (${cause.message}); make room on the disk`;
  }

  /** Rewrites waiting messages by sequence number: a text replaces the payload, null drops the message. */
  revise(changes: ReadonlyMap<number, string | null>): void {
    if (changes.size === 0) return;
    this.#unsaved = this.#unsaved.map((one) => ({ ...one, payload: changes.get(one.seq) ?? one.payload }));
    for (const [seq, payload] of changes) if (payload !== null) this.#unsavedTexts.set(seq, payload);
    this.#save();
    this.delivered([...changes].filter(([, payload]) => payload === null).map(([seq]) => seq));
  }

  /** Last retained payload of one topic. */
  retainedAt(topic: string): string | undefined {
    const unsaved = this.#unsavedRetained.get(topic);
    if (unsaved !== undefined) return unsaved === '' ? undefined : unsaved;
    return (this.#retainedAt.get(topic) as { payload: string } | undefined)?.payload;
  }

  /** Last retained payload by topic, as the broker should have it once nothing waits. */
  retained(): ReadonlyMap<string, string> {
    const rows = this.#database.prepare('SELECT topic, payload FROM retained').all() as {
      topic: string;
      payload: string;
    }[];
    const retained = new Map(rows.map((row) => [row.topic, row.payload]));
    for (const [topic, payload] of this.#unsavedRetained) {
      if (payload === '') retained.delete(topic);
      else retained.set(topic, payload);
    }
    return retained;
  }
}
