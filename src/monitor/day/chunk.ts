import type { ToldAnswer } from '../../watering/sentences/said/told.js';
import type { Fact } from '../ports/facts.js';
import type { CoreParts, CoreState } from './core/core-parts.js';
import { type DayInput, inputsFromKept, keptInputs } from './core/day-input.js';
import { FarmCore } from './core/farm-core.js';

/** A stretch of the day: the farm as it stood, and what has reached it since. */
export interface Chunk {
  /** Counts up by one from chunk to chunk. */
  readonly number: number;
  readonly state: CoreState;
  readonly inputs: readonly DayInput[];
}

/** What came of playing some chunks. */
export interface Played {
  readonly core: FarmCore;
  readonly chunks: readonly Chunk[];
  readonly facts: readonly Fact[];
  readonly answers: ReadonlyMap<string, ToldAnswer>;
  /** Facts of each command, by ref. */
  readonly factsOf: ReadonlyMap<string, readonly Fact[]>;
}

/**
 * Plays chunks one after the other, each from where the one before has led; `inputsOf` says which inputs each has. The first stands
 * as it is. Throws what the core throws.
 */
export function playChunks(
  parts: CoreParts,
  chunks: readonly Chunk[],
  inputsOf: (chunk: Chunk) => readonly DayInput[] = ({ inputs }) => inputs,
): Played {
  const [first] = chunks;
  if (first === undefined) throw new RangeError('no chunk to play');
  const played: Chunk[] = [];
  const facts: Fact[] = [];
  const answers = new Map<string, ToldAnswer>();
  const factsOf = new Map<string, readonly Fact[]>();
  let { state } = first;
  let core = new FarmCore(parts, state);
  for (const chunk of chunks) {
    if (chunk !== first) {
      state = core.state();
      core = new FarmCore(parts, state);
    }
    const inputs = inputsOf(chunk);
    for (const input of inputs) {
      const answer = core.play(input);
      core.takeDenied();
      const given = core.takeFacts();
      facts.push(...given);
      if (answer === undefined || input.kind !== 'command') continue;
      answers.set(input.ref, answer);
      factsOf.set(input.ref, given);
    }
    played.push({ number: chunk.number, state, inputs });
  }
  return { core, chunks: played, facts, answers, factsOf };
}

const CHUNK_VERSION = 1;

/** JSON form of a chunk's state, which never changes unless the past does. */
export function keptState({ number, state }: Chunk): unknown {
  return { version: CHUNK_VERSION, number, state };
}

/** JSON form of a chunk's inputs, which grow. */
export function keptInputsOf({ number, inputs }: Chunk): unknown {
  return { version: CHUNK_VERSION, number, inputs: keptInputs(inputs) };
}

interface KeptHalf {
  readonly version: number;
  readonly number: number;
}

function isHalfOf(value: unknown, number: number, key: string): value is KeptHalf {
  return (
    typeof value === 'object' &&
    value !== null &&
    'version' in value &&
    value.version === CHUNK_VERSION &&
    'number' in value &&
    value.number === number &&
    key in value
  );
}

/** The chunk of this number; undefined when either half is missing, of another version, or of another chunk. */
export function chunkFromKept(number: number, state: unknown, inputs: unknown): Chunk | undefined {
  if (!isHalfOf(state, number, 'state') || !isHalfOf(inputs, number, 'inputs')) return undefined;
  const { inputs: rows } = inputs as KeptHalf & { inputs: Parameters<typeof inputsFromKept>[0] };
  if (!Array.isArray(rows)) return undefined;
  return {
    number,
    state: (state as KeptHalf & { state: CoreState }).state,
    inputs: inputsFromKept(rows),
  };
}
