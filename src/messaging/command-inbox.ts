import type Database from 'better-sqlite3';
import type { Answer } from '../../shared/command.js';

/** Refs are remembered for two days: undo names the ref of a command of the last day. */
const REMEMBER_MS = 48 * 3_600_000;

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
  readonly answer: Answer | undefined;
}

/** Commands that came in, by ref, so that one that is delivered twice runs once, and none is lost by a crash. */
export class CommandInbox {
  readonly #insert: Database.Statement;
  readonly #answer: Database.Statement;
  readonly #find: Database.Statement;
  readonly #open: Database.Statement;
  readonly #twin: Database.Statement;
  readonly #prune: Database.Statement;

  constructor(database: Database.Database) {
    this.#insert = database.prepare(
      'INSERT OR IGNORE INTO command (ref, payload, received_at_ms, wall_ms) VALUES (?, ?, ?, ?)',
    );
    this.#answer = database.prepare('UPDATE command SET answer = ? WHERE ref = ?');
    this.#find = database.prepare('SELECT payload, wall_ms, answer FROM command WHERE ref = ?');
    this.#open = database.prepare(
      'SELECT ref, payload, received_at_ms FROM command WHERE answer IS NULL ORDER BY wall_ms',
    );
    this.#twin = database.prepare('SELECT ref FROM command WHERE payload = ? AND wall_ms > ? LIMIT 1');
    this.#prune = database.prepare('DELETE FROM command WHERE wall_ms < ?');
  }

  /** Durable when it returns. A ref that is known already stays as it is. */
  receive(command: ReceivedCommand, wallMs: number): void {
    this.#prune.run(wallMs - REMEMBER_MS);
    this.#insert.run(command.ref, command.payload, command.receivedAtMs, wallMs);
  }

  answered(answer: Answer): void {
    this.#answer.run(JSON.stringify(answer), answer.ref);
  }

  /** The command that used this ref in the last two days. */
  find(ref: string): KnownCommand | undefined {
    const row = this.#find.get(ref) as
      | { payload: string; wall_ms: number; answer: string | null }
      | undefined;
    if (row === undefined) return undefined;
    const answer = row.answer === null ? undefined : (JSON.parse(row.answer) as Answer);
    return { ref, payload: row.payload, receivedAtWallMs: row.wall_ms, answer };
  }

  /** True when the very same text came in since this instant. */
  hasTwin(payload: string, sinceWallMs: number): boolean {
    return this.#twin.get(payload, sinceWallMs) !== undefined;
  }

  /** Received before a crash and never answered, oldest first. */
  unanswered(): readonly ReceivedCommand[] {
    const rows = this.#open.all() as { ref: string; payload: string; received_at_ms: number }[];
    return rows.map(({ ref, payload, received_at_ms }) => ({ ref, payload, receivedAtMs: received_at_ms }));
  }
}
