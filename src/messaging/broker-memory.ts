import { mkdirSync } from 'node:fs';
import aedesPersistenceLevel from 'aedes-persistence-level';
import { Level } from 'level';
import { errorCode, errorText, MessagingError } from './messaging-error.js';

/** Where the own broker keeps sessions and retained messages. */
export interface BrokerMemory {
  /** Absent: aedes keeps them in memory. */
  readonly persistence: unknown;
  close(): Promise<void>;
}

/** Opens the folder, or says why not. Without a folder everything is forgotten at the end. */
export async function openBrokerMemory(folder: string | undefined): Promise<BrokerMemory> {
  if (folder === undefined) return { persistence: undefined, close: () => Promise.resolve() };
  try {
    mkdirSync(folder, { recursive: true });
    const level = new Level(folder);
    await level.open();
    return { persistence: aedesPersistenceLevel(level), close: () => level.close() };
  } catch (cause) {
    const locked = cause instanceof Error && errorCode(cause.cause) === 'LEVEL_LOCKED';
    throw locked
      ? new MessagingError(
          'folder-in-use',
          `Cannot open the broker's folder "${folder}": another Drybell uses it; stop that one, or choose another store.folder`,
          { cause },
        )
      : new MessagingError(
          'folder-in-use',
          `Cannot open the broker's folder "${folder}": ${errorText(cause)}; check that it can be written`,
          { cause },
        );
  }
}
