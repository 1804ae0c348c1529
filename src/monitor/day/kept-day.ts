import type { States } from '../ports/ports.js';
import { type Chunk, chunkFromKept, keptInputsOf, keptState } from './chunk.js';

/** A chunk is two hours; so many are kept that an event of the last day, told late, can be taken back. */
export const MOST_CHUNKS = 14;
/** More names than chunks: one that is being replaced never stands under the name of one that is still needed. */
const SLOTS = MOST_CHUNKS + 2;
const DAY_VERSION = 1;

/** Name of the state document that says which chunks there are. */
export const DAY = 'day';
const stateName = (number: number): string => `${DAY}-${number % SLOTS}-state`;
const inputsName = (number: number): string => `${DAY}-${number % SLOTS}-inputs`;

/** Which chunks make up the day, and the last turn that was kept with them. JSON-able. */
interface KeptDay {
  readonly version: number;
  readonly first: number;
  readonly last: number;
  /** Id of that turn: a day of another turn was left behind by a version that keeps none. */
  readonly turn: string | null;
}

/** Writes a day's chunks as state documents, only what has changed since it was last asked. */
export class DayKeeper {
  private readonly states = new Map<number, unknown>();
  private readonly inputs = new Map<number, { readonly of: unknown; readonly count: number }>();

  /**
   * @param kept chunks that are kept already
   * @param turn id of the last turn that was kept, if any
   */
  constructor(
    kept: readonly Chunk[],
    private turn: string | undefined,
  ) {
    for (const { number, state, inputs } of kept) {
      this.states.set(number, state);
      this.inputs.set(number, { of: inputs, count: inputs.length });
    }
  }

  /** @param turn id of the turn that these documents are kept with; absent: with none */
  documents(chunks: readonly Chunk[], turn: string | undefined): States {
    this.turn = turn ?? this.turn;
    const documents: Record<string, unknown> = {};
    const seen = new Set<number>();
    for (const chunk of chunks) {
      const { number, state, inputs } = chunk;
      seen.add(number);
      if (this.states.get(number) !== state) documents[stateName(number)] = keptState(chunk);
      // They grow in place, the newest may be replaced, and when the past is another all are others.
      const kept = this.inputs.get(number);
      if (kept?.of !== inputs || kept.count !== inputs.length || chunk === chunks.at(-1))
        documents[inputsName(number)] = keptInputsOf(chunk);
      this.states.set(number, state);
      this.inputs.set(number, { of: inputs, count: inputs.length });
    }
    for (const number of [...this.states.keys()]) {
      if (seen.has(number)) continue;
      this.states.delete(number);
      this.inputs.delete(number);
    }
    const first = chunks[0]?.number ?? 0;
    const last = chunks.at(-1)?.number ?? 0;
    const day: KeptDay = { version: DAY_VERSION, first, last, turn: this.turn ?? null };
    documents[DAY] = day;
    return documents;
  }
}

/** What can't be read is as good as not there: the day only adds what can be taken back, the farm is kept beside it. */
async function loaded(load: (name: string) => Promise<unknown>, name: string): Promise<unknown> {
  try {
    return await load(name);
  } catch (cause) {
    if (cause instanceof Error && 'code' in cause && cause.code === 'garbled') return undefined;
    throw cause;
  }
}

/**
 * The chunks as they were kept, oldest first, without a gap; empty when there are none, they are of another version, or `turn` was
 * kept without them. A damaged one costs what lies before it.
 */
export async function chunksFromKept(
  load: (name: string) => Promise<unknown>,
  turn: string | undefined,
): Promise<readonly Chunk[]> {
  const day = (await loaded(load, DAY)) as KeptDay | null | undefined;
  if (day?.version !== DAY_VERSION || day.turn !== (turn ?? null)) return [];
  const chunks: Chunk[] = [];
  for (let number = day.last; number >= day.first; number--) {
    const chunk = chunkFromKept(
      number,
      await loaded(load, stateName(number)),
      await loaded(load, inputsName(number)),
    );
    if (chunk === undefined) break;
    chunks.unshift(chunk);
  }
  return chunks;
}
