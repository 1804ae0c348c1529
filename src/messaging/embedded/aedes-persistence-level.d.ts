declare module 'aedes-persistence-level' {
  import type { Readable } from 'node:stream';
  import type { BrokerDatabase } from './level-or-memory.js';

  /** Persistence of an aedes broker in a level database; the streams that read it. */
  export interface LevelPersistence {
    createRetainedStreamCombi(patterns: readonly string[]): Readable;
    outgoingStream(client: unknown): Readable;
    streamWill(brokers: unknown): Readable;
    cleanSubscriptions(client: { readonly id: string }): Promise<void>;
  }
  export default function aedesPersistenceLevel(database: BrokerDatabase): LevelPersistence;
}
