import { toStoreError } from './file/sqlite-errors.js';
import { openForReading } from './file/store-file.js';
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
