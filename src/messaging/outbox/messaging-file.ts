import { mkdirSync } from 'node:fs';
import { dirname } from 'node:path';
import {
  type OpenedDatabase,
  openSmallDatabase,
  type SmallDatabase,
} from '../../host/disk/small-database.js';
import { SqliteError } from '../../host/disk/sqlite.js';
import { errorText, MessagingError } from '../wire/messaging-error.js';

/** In order of the primary key and back. */
function byKey(...columns: readonly string[]): readonly [string, string] {
  return [columns.join(', '), columns.map((column) => `${column} DESC`).join(', ')];
}

/** Outbox and inbox, in the store's folder. */
export const OUTBOX_FILE = 'outbox.db';

const outboxFile: SmallDatabase = {
  name: 'The outbox',
  // the command line looks how much waits
  isShared: true,
  // "DbOu"
  applicationId: 0x44_62_4f_75,
  changes: [
    `CREATE TABLE waiting (
       seq INTEGER PRIMARY KEY, id TEXT NOT NULL, kind TEXT NOT NULL, topic TEXT NOT NULL, payload TEXT NOT NULL,
       retain INTEGER NOT NULL, queued_at_ms INTEGER NOT NULL) STRICT;
     CREATE TABLE retained (topic TEXT PRIMARY KEY, payload TEXT NOT NULL) STRICT, WITHOUT ROWID;
     CREATE TABLE command (
       ref TEXT PRIMARY KEY, payload TEXT NOT NULL, received_at_ms INTEGER NOT NULL, wall_ms INTEGER NOT NULL,
       answer TEXT) STRICT, WITHOUT ROWID;
     CREATE INDEX command_by_time ON command (wall_ms);`,
    `CREATE TABLE outgoing (
       target TEXT NOT NULL, seq INTEGER NOT NULL, id TEXT NOT NULL, kind TEXT NOT NULL, topic TEXT NOT NULL,
       payload TEXT NOT NULL, retain INTEGER NOT NULL, queued_at_ms INTEGER NOT NULL,
       PRIMARY KEY (target, seq)) STRICT, WITHOUT ROWID;
     INSERT INTO outgoing SELECT '', seq, id, kind, topic, payload, retain, queued_at_ms FROM waiting;
     DROP TABLE waiting;`,
    'CREATE TABLE turn (target TEXT PRIMARY KEY, id TEXT NOT NULL) STRICT, WITHOUT ROWID;',
    // no table changes: a sentence that waits goes out as it is, and an earlier program does not send data to a phone
    '-- what is said waits as data',
  ],
  unmarkedVersion: (tables) =>
    tables.has('turn') ? 3 : tables.has('outgoing') ? 2 : tables.has('waiting') ? 1 : 0,
  readable: {
    outgoing: "payload = '' OR json_valid(payload)",
    retained: 'json_valid(payload)',
    command: 'answer IS NULL OR json_valid(answer)',
  },
  carried: [
    { table: 'outgoing', order: byKey('target', 'seq') },
    { table: 'retained', order: byKey('topic') },
    { table: 'command', order: byKey('ref') },
    { table: 'turn', order: byKey('target') },
  ],
};

/**
 * Opens the file of outbox and inbox; `undefined` keeps both in memory. Every commit reaches the disk. One that can't be read is set
 * aside and begun anew with what can; where the disk takes nothing, both are kept in memory until the next start. `trouble` says so.
 * Throws a MessagingError `outbox-unusable`.
 */
export function openMessagingFile(file: string | undefined, nowMs: number): OpenedDatabase {
  try {
    if (file !== undefined) mkdirSync(dirname(file), { recursive: true });
    const opened = openSmallDatabase(file ?? ':memory:', outboxFile, nowMs);
    opened.database.pragma('synchronous = FULL');
    return opened;
  } catch (cause) {
    if (cause instanceof SqliteError && cause.code === 'SQLITE_FULL') {
      const { database } = openSmallDatabase(':memory:', outboxFile, nowMs);
      const trouble = `The disk is full, and there is no outbox yet: what is told is kept in memory until the next start. Make room.`;
      return { database, trouble };
    }
    if (cause instanceof SqliteError && cause.code === 'SQLITE_BUSY')
      throw new MessagingError(
        'folder-in-use',
        `Cannot open the outbox "${file}": another Drybell uses it; stop that one, or choose another store.folder`,
        { cause },
      );
    throw new MessagingError(
      'outbox-unusable',
      `Cannot open the outbox "${file}": ${errorText(cause)}; check that the folder can be written, or move the file away`,
      { cause },
    );
  }
}
