import { mkdirSync } from 'node:fs';
import { Readable } from 'node:stream';
import aedesPersistenceLevel, { type LevelPersistence } from 'aedes-persistence-level';
import { Level } from 'level';
import { setAside } from '../../host/disk/set-aside.js';
import { errorCode, errorText, MessagingError } from '../wire/messaging-error.js';
import { type BytesLevel, type DiskWatch, LevelOrMemory } from './level-or-memory.js';
import { OldSessions } from './old-sessions.js';

/** Where the own broker keeps sessions and retained messages. */
export interface BrokerMemory {
  /** Absent: aedes keeps them in memory. */
  readonly persistence: unknown;
  /** Sessions of clients that may come no more; absent: nothing is kept of any. */
  readonly oldSessions?: OldSessions;
  /** What was found amiss when it was opened, and what became of it. */
  readonly trouble?: string | undefined;
  close(): Promise<void>;
}

/** Knows which streams still read the database: one that is cut off in the middle would end the process. */
class ReadingStreams {
  readonly #open = new Set<Readable>();
  #ending = false;

  watch(persistence: LevelPersistence): LevelPersistence {
    const { createRetainedStreamCombi, outgoingStream, streamWill } = persistence;
    return Object.assign(persistence, {
      createRetainedStreamCombi: (patterns: readonly string[]) =>
        this.#begin(() => createRetainedStreamCombi.call(persistence, patterns)),
      outgoingStream: (client: unknown) => this.#begin(() => outgoingStream.call(persistence, client)),
      streamWill: (brokers: unknown) => this.#begin(() => streamWill.call(persistence, brokers)),
    });
  }

  get isReading(): boolean {
    return this.#open.size > 0;
  }

  #begin(make: () => Readable): Readable {
    if (this.#ending) return Readable.from([]);
    const stream = make();
    this.#open.add(stream);
    stream.once('close', () => this.#open.delete(stream));
    return stream;
  }

  /** New streams are empty from now on; resolves when those that read have ended. */
  async ended(): Promise<void> {
    this.#ending = true;
    await Promise.all(
      [...this.#open].map(
        (stream) =>
          new Promise<void>((resolve) => {
            stream.once('close', () => resolve());
            stream.destroy();
          }),
      ),
    );
  }
}

/** Reads everything once, so that what is garbled is found now and not when a client asks for it. */
async function readThrough(level: BytesLevel, persistence: LevelPersistence): Promise<void> {
  for await (const _ of level.iterator());
  for await (const _ of persistence.createRetainedStreamCombi(['#']));
}

async function openLevel(folder: string, watch: DiskWatch, trouble?: string): Promise<BrokerMemory> {
  mkdirSync(folder, { recursive: true });
  const level: BytesLevel = new Level(folder, { valueEncoding: 'buffer' });
  await level.open();
  const streams = new ReadingStreams();
  const database = new LevelOrMemory(level, watch, () => streams.isReading);
  const persistence = aedesPersistenceLevel(database);
  try {
    await readThrough(level, persistence);
  } catch (cause) {
    await level.close();
    throw new UnreadableFolder(errorText(cause), { cause });
  }
  return {
    persistence: streams.watch(persistence),
    oldSessions: new OldSessions(database, persistence),
    trouble,
    close: async () => {
      await streams.ended();
      await database.close();
    },
  };
}

/** The folder was opened, and something in it is no message. */
class UnreadableFolder extends Error {}

/** What a new folder would suffer from too: another process, or a disk that takes nothing. */
const NOT_THE_FOLDERS_FAULT =
  /Permission denied|Operation not permitted|Read-only file system|Input\/output error/;

/** Why the folder itself can't be read, when that is so. */
function damageOf(cause: unknown): string | undefined {
  if (cause instanceof UnreadableFolder) return cause.message;
  const reason = cause instanceof Error ? cause.cause : undefined;
  if (!errorCode(reason).startsWith('LEVEL_') || errorCode(reason) === 'LEVEL_LOCKED') return undefined;
  return NOT_THE_FOLDERS_FAULT.test(errorText(reason)) ? undefined : errorText(reason);
}

function isFull(cause: unknown): boolean {
  return cause instanceof Error && /No space left on device/.test(errorText(cause.cause));
}

function folderError(folder: string, cause: unknown): MessagingError {
  const locked = cause instanceof Error && errorCode(cause.cause) === 'LEVEL_LOCKED';
  const why = locked
    ? 'another Drybell uses it; stop that one, or choose another store.folder'
    : `${errorText(cause instanceof Error ? (cause.cause ?? cause) : cause)}; check that it can be written`;
  return new MessagingError('folder-in-use', `Cannot open the broker's folder "${folder}": ${why}`, {
    cause,
  });
}

const forgetful: BrokerMemory = { persistence: undefined, close: () => Promise.resolve() };

/**
 * Opens the folder, or says why not. Without a folder, or on a disk that is full already, everything is forgotten at the end. One that can't be read
 * is set aside under a dated name and begun anew: phones must log in once more, and what is retained comes from the outbox.
 */
export async function openBrokerMemory(
  folder: string | undefined,
  nowMs: number,
  watch: DiskWatch,
): Promise<BrokerMemory> {
  if (folder === undefined) return forgetful;
  try {
    return await openLevel(folder, watch);
  } catch (cause) {
    if (isFull(cause))
      return {
        ...forgetful,
        trouble: `The disk is full: the broker keeps sessions and retained messages in memory until the next start. Make room.`,
      };
    const damage = damageOf(cause);
    if (damage === undefined) throw folderError(folder, cause);
    const aside = setAside(folder, nowMs);
    const trouble = `The broker's folder could not be read (${damage}); it was set aside as "${aside}" and begun anew. What phones had still to get is in there.`;
    return openLevel(folder, watch, trouble);
  }
}
