import { mkdirSync } from 'node:fs';
import { Readable } from 'node:stream';
import aedesPersistenceLevel, { type LevelPersistence } from 'aedes-persistence-level';
import { Level } from 'level';
import { errorCode, errorText, MessagingError } from './messaging-error.js';

/** Where the own broker keeps sessions and retained messages. */
export interface BrokerMemory {
  /** Absent: aedes keeps them in memory. */
  readonly persistence: unknown;
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

/** Opens the folder, or says why not. Without a folder everything is forgotten at the end. */
export async function openBrokerMemory(folder: string | undefined): Promise<BrokerMemory> {
  if (folder === undefined) return { persistence: undefined, close: () => Promise.resolve() };
  try {
    mkdirSync(folder, { recursive: true });
    const level = new Level(folder);
    await level.open();
    const streams = new ReadingStreams();
    return {
      persistence: streams.watch(aedesPersistenceLevel(level)),
      close: async () => {
        await streams.ended();
        await level.close();
      },
    };
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
