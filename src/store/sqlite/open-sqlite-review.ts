import type { ReviewQueries } from '../../monitor/ports/ports.js';
import { openForReading } from './file/store-file.js';
import { SqliteReview } from './sqlite-review.js';

/** Opens the embedded store for questions only, beside a running monitor or without one. */
export function openSqliteReview(options: {
  readonly folder: string;
}): ReviewQueries & { close(): Promise<void> } {
  return new ReadOnlyReview(options.folder);
}

class ReadOnlyReview extends SqliteReview {
  readonly #closeFile: () => void;

  constructor(folder: string) {
    const db = openForReading(folder);
    super(db);
    this.#closeFile = () => db.close();
  }

  async close(): Promise<void> {
    this.#closeFile();
  }
}
