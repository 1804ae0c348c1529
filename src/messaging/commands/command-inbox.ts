import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import { type Database, SqliteError, type Statement } from '../../host/disk/sqlite.js';
import type { ToldAnswer } from '../../watering/sentences/said/told.js';

/** Refs are remembered for two days: undo names the ref of a command of the last day. */
const REMEMBER_MS = 48 * MS_PER_HOUR;

/** A command as it was received. */
export interface ReceivedCommand {
  readonly ref: string;
  readonly payload: string;
  /** Farm clock, epoch ms. */
  readonly receivedAtMs: number;
}

export interface KnownCommand {
  readonly ref: string;
  readonly payload: string;
  readonly receivedAtWallMs: number;
  /** Undefined while it is being done. */
  readonly answer: ToldAnswer | undefined;
}

/**
 * Commands that came in, by ref, so that one that is delivered twice runs once, and none is lost by a crash. What the disk refuses is
 * remembered until the process ends, and written with the next command that it takes.
 */
export class CommandInbox {
  readonly #insert: Statement;
  readonly #answer: Statement;
  readonly #select: Statement;
  readonly #open: Statement;
  readonly #twin: Statement;
  readonly #prune: Statement;
  readonly #unsaved = new Map<string, KnownCommand & { readonly receivedAtMs: number }>();
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
    this.#insert = database.prepare(
      'INSERT OR IGNORE INTO command (ref, payload, received_at_ms, wall_ms) VALUES (?, ?, ?, ?)',
    );
    this.#answer = database.prepare('UPDATE command SET answer = ? WHERE ref = ?');
    this.#select = database.prepare(
      'SELECT payload, received_at_ms, wall_ms, answer FROM command WHERE ref = ?',
    );
    this.#open = database.prepare(
      'SELECT ref, payload, received_at_ms FROM command WHERE answer IS NULL ORDER BY wall_ms',
    );
    this.#twin = database.prepare('SELECT ref FROM command WHERE payload = ? AND wall_ms > ? LIMIT 1');
    this.#prune = database.prepare('DELETE FROM command WHERE wall_ms < ?');
  }

  /** Durable when it returns true; false: the disk refused it. A ref that is known already stays as it is. */
  receive({ ref, payload, receivedAtMs }: ReceivedCommand, wallMs: number): boolean {
    if (this.find(ref) === undefined)
      this.#unsaved.set(ref, { ref, payload, receivedAtMs, receivedAtWallMs: wallMs, answer: undefined });
    for (const [old, { receivedAtWallMs }] of this.#unsaved)
      if (receivedAtWallMs < wallMs - REMEMBER_MS) this.#unsaved.delete(old);
    return this.#save(wallMs - REMEMBER_MS);
  }

  answered(answer: ToldAnswer): void {
    const known = this.#find(answer.ref);
    if (known === undefined) return;
    this.#unsaved.set(answer.ref, { ...known, answer });
    this.#save();
  }

  #save(forgetBeforeWallMs?: number): boolean {
    try {
      this.#database.transaction(() => {
        if (forgetBeforeWallMs !== undefined) this.#prune.run(forgetBeforeWallMs);
        for (const { ref, payload, receivedAtMs, receivedAtWallMs, answer } of this.#unsaved.values()) {
          this.#insert.run(ref, payload, receivedAtMs, receivedAtWallMs);
          if (answer !== undefined) this.#answer.run(JSON.stringify(answer), ref);
        }
      })();
    } catch (cause) {
      if (!(cause instanceof SqliteError)) throw cause;
      return false;
    }
    this.#unsaved.clear();
    return true;
  }

  #find(ref: string): (KnownCommand & { readonly receivedAtMs: number }) | undefined {
    const unsaved = this.#unsaved.get(ref);
    if (unsaved !== undefined) return unsaved;
    const row = this.#select.get(ref) as
      | { payload: string; received_at_ms: number; wall_ms: number; answer: string | null }
      | undefined;
    if (row === undefined) return undefined;
    const answer = row.answer === null ? undefined : (JSON.parse(row.answer) as ToldAnswer);
    const { payload, received_at_ms: receivedAtMs, wall_ms: receivedAtWallMs } = row;
    return { ref, payload, receivedAtMs, receivedAtWallMs, answer };
  }

  /** The command that used this ref in the last two days. */
  find(ref: string): KnownCommand | undefined {
    return this.#find(ref);
  }

  /** True when the very same text came in since this instant. */
  hasTwin(payload: string, sinceWallMs: number): boolean {
    const isTwin = (one: KnownCommand) => one.payload === payload && one.receivedAtWallMs > sinceWallMs;
    return [...this.#unsaved.values()].some(isTwin) || this.#twin.get(payload, sinceWallMs) !== undefined;
  }

  /** Received before a crash and never answered, oldest first. */
  unanswered(): readonly ReceivedCommand[] {
    const rows = this.#open.all() as { ref: string; payload: string; received_at_ms: number }[];
    return rows.map(({ ref, payload, received_at_ms }) => ({ ref, payload, receivedAtMs: received_at_ms }));
  }
}
