import type { Level } from 'level';
import { MemoryLevel } from 'memory-level';
import { errorCode } from '../wire/messaging-error.js';

/** While the disk takes nothing, it is tried again so often. */
const TRY_AGAIN_MS = 10_000;

type Bytes = Buffer;
type Change =
  | { readonly type: 'put'; readonly key: string; readonly value: Bytes }
  | { readonly type: 'del'; readonly key: string };
interface KeyRange {
  readonly gte?: string;
  readonly lt?: string;
}

/** A level database of bytes, on the disk or in memory. */
export type BytesLevel = Level<string, Bytes>;
interface Keeps {
  get(key: string): Promise<Bytes | undefined>;
  values(range: KeyRange): AsyncIterable<Bytes>;
  keys(range: KeyRange): AsyncIterable<string>;
  put(key: string, value: Bytes): Promise<void>;
  del(key: string): Promise<void>;
  clear(range: KeyRange): Promise<void>;
  batch(changes: Change[]): Promise<void>;
}

/** What the broker's persistence asks of a database. */
export interface BrokerDatabase extends Keeps {
  batch(changes: Change[]): Promise<void>;
  batch(): { del(key: string): void; write(): Promise<void> };
}

export interface DiskWatch {
  /** The disk took nothing: sessions and retained messages are kept in memory for now. */
  lost(cause: unknown): void;
  /** Everything is on the disk again. */
  found(): void;
}

/** Something of the database is being read by a stream that must not be cut off. */
export type IsBeingRead = () => boolean;

/**
 * A broker's level database that goes on in memory when the disk takes nothing (full, read-only, torn off), and back to the disk with
 * everything as soon as it takes it: a broker that cannot keep must still pass on. What is written is never half of what was asked.
 */
export class LevelOrMemory implements BrokerDatabase {
  #memory: MemoryLevel<string, Bytes> | undefined;
  /** Whatever is asked waits for a move between disk and memory. */
  #move: Promise<void> = Promise.resolve();
  readonly #writing = new Set<Promise<unknown>>();
  #retry: NodeJS.Timeout | undefined;
  #isClosed = false;

  constructor(
    private readonly level: BytesLevel,
    private readonly watch: DiskWatch,
    private readonly isBeingRead: IsBeingRead,
    private readonly tryAgainMs = TRY_AGAIN_MS,
  ) {}

  async get(key: string): Promise<Bytes | undefined> {
    await this.#move;
    return this.#now().get(key);
  }

  async *values(range: KeyRange): AsyncGenerator<Bytes> {
    await this.#move;
    yield* this.#now().values(range);
  }

  async *keys(range: KeyRange): AsyncGenerator<string> {
    await this.#move;
    yield* this.#now().keys(range);
  }

  put(key: string, value: Bytes): Promise<void> {
    return this.#write((database) => database.put(key, value));
  }

  del(key: string): Promise<void> {
    return this.#write((database) => database.del(key));
  }

  clear(range: KeyRange): Promise<void> {
    return this.#write((database) => database.clear(range));
  }

  batch(changes: Change[]): Promise<void>;
  batch(): { del(key: string): void; write(): Promise<void> };
  batch(changes?: Change[]): Promise<void> | { del(key: string): void; write(): Promise<void> } {
    if (changes !== undefined) return this.#write((database) => database.batch(changes));
    const collected: Change[] = [];
    return {
      del: (key) => void collected.push({ type: 'del', key }),
      write: () => this.batch(collected),
    };
  }

  /** What is in memory only is tried once more, then both are closed. */
  async close(): Promise<void> {
    clearInterval(this.#retry);
    this.#isClosed = true;
    await this.#move;
    if (this.#memory !== undefined) await this.#toDisk();
    await this.#memory?.close();
    await this.level.close();
  }

  #now(): Keeps {
    return this.#memory ?? this.level;
  }

  async #write(change: (database: Keeps) => Promise<void>): Promise<void> {
    await this.#move;
    const memory = this.#memory;
    if (memory !== undefined) return change(memory);
    const writing = change(this.level);
    this.#writing.add(writing);
    try {
      await writing;
    } catch (cause) {
      if (errorCode(cause) !== 'LEVEL_IO_ERROR') throw cause;
      this.#writing.delete(writing);
      await this.#toMemory(cause);
      await change(this.#now());
    } finally {
      this.#writing.delete(writing);
    }
  }

  /** Once, however many writes fail together; those that succeed beside them are waited for, so that the copy holds them. */
  #toMemory(cause: unknown): Promise<void> {
    if (this.#memory !== undefined) return this.#move;
    const memory = new MemoryLevel<string, Bytes>({ valueEncoding: 'buffer' });
    this.#memory = memory;
    this.watch.lost(cause);
    this.#move = (async () => {
      await Promise.allSettled(this.#writing);
      for await (const [key, value] of this.level.iterator()) await memory.put(key, value);
    })();
    if (this.#isClosed) return this.#move;
    this.#retry = setInterval(() => {
      if (!this.isBeingRead()) this.#move = this.#move.then(() => this.#toDisk());
    }, this.tryAgainMs);
    this.#retry.unref();
    return this.#move;
  }

  /** All that memory holds in one batch, and nothing else; the database is opened anew, since a torn write may stand at its end. */
  async #toDisk(): Promise<void> {
    const memory = this.#memory;
    if (memory === undefined) return;
    try {
      await this.level.close();
      await this.level.open();
      const changes: Change[] = [];
      for await (const key of this.level.keys())
        if ((await memory.get(key)) === undefined) changes.push({ type: 'del', key });
      for await (const [key, value] of memory.iterator()) changes.push({ type: 'put', key, value });
      await this.level.batch(changes, { sync: true });
    } catch {
      // the disk still takes nothing: said when it began
      return;
    }
    clearInterval(this.#retry);
    this.#memory = undefined;
    this.watch.found();
    await memory.close();
  }
}
