declare module 'aedes-persistence-level' {
  import type { Readable } from 'node:stream';
  import type { Level } from 'level';

  /** Persistence of an aedes broker in a level database; the streams that read it. */
  export interface LevelPersistence {
    createRetainedStreamCombi(patterns: readonly string[]): Readable;
    outgoingStream(client: unknown): Readable;
    streamWill(brokers: unknown): Readable;
  }
  export default function aedesPersistenceLevel(level: Level): LevelPersistence;
}
