import type { Database, Statement } from '../../../host/disk/sqlite.js';

/** Small numbers that the store remembers about itself. */
export type MarkName =
  | 'rolled-until-ms'
  | 'readings-kept-from-ms'
  | 'closed-cleanly'
  | 'synced-at-ms'
  | 'kept-until-ms';

export class Marks {
  readonly #get: Statement<unknown[], number>;
  readonly #set: Statement;

  constructor(db: Database) {
    this.#get = db.prepare<unknown[], number>('SELECT value FROM mark WHERE name = ?').pluck();
    this.#set = db.prepare('INSERT OR REPLACE INTO mark (name, value) VALUES (?, ?)');
  }

  get(name: MarkName): number | undefined {
    return this.#get.get(name);
  }

  set(name: MarkName, value: number): void {
    this.#set.run(name, value);
  }
}
