import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { Database } from '../../host/disk/sqlite.js';
import { OUTBOX_FILE } from './messaging-file.js';

/** What waits to be sent on one way out. */
export interface MessagesWaiting {
  /** "" the broker, else the id of a webhook. */
  readonly target: string;
  readonly count: number;
  /** Wall clock, epoch ms. */
  readonly oldestAtMs: number;
}

/**
 * What waits in a folder's outbox, beside a running monitor or without one; empty when nothing does or nothing was ever told.
 * Throws SQLite's own error for a file that can't be read.
 */
export function messagesWaiting(folder: string): readonly MessagesWaiting[] {
  const path = join(folder, OUTBOX_FILE);
  if (!existsSync(path)) return [];
  const database = new Database(path, { readonly: true, timeout: 1000 });
  try {
    return database
      .prepare<unknown[], MessagesWaiting>(
        'SELECT target, count(*) AS count, min(queued_at_ms) AS oldestAtMs FROM outgoing GROUP BY target',
      )
      .all();
  } finally {
    database.close();
  }
}
