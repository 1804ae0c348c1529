import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { toStoreError } from './file/sqlite-errors.js';
import { openForReading, STORE_FILE } from './file/store-file.js';
import { readDocumentBody } from './tables/state-table.js';

/** A state document as last saved, beside a running monitor or without one; undefined when none was saved yet. */
export function readState(folder: string, name: string): unknown {
  const db = openForReading(folder);
  try {
    return readDocumentBody(db, name);
  } catch (cause) {
    throw toStoreError(`read the state "${name}"`, cause);
  } finally {
    db.close();
  }
}

/** The documents of a folder's store, to be read; none where no store is, as on a machine that only reviews a database. */
export function storeDocuments(folder: string): { loadState(name: string): Promise<unknown> } {
  return {
    loadState: async (name) => (existsSync(join(folder, STORE_FILE)) ? readState(folder, name) : undefined),
  };
}
