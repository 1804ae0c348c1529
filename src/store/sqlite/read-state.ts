import { toStoreError } from './sqlite-errors.js';
import { openForReading } from './store-file.js';

/** A state document as last saved, beside a running monitor or without one; undefined when none was saved yet. */
export function readState(folder: string, name: string): unknown {
  const db = openForReading(folder);
  try {
    const body = db.prepare<unknown[], string>('SELECT body FROM state WHERE name = ?').pluck().get(name);
    return body === undefined ? undefined : JSON.parse(body);
  } catch (cause) {
    throw toStoreError(`read the state "${name}"`, cause);
  } finally {
    db.close();
  }
}
