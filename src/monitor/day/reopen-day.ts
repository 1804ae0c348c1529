import { type Chunk, playChunks } from './chunk.js';
import type { CoreParts } from './core/core-parts.js';
import type { DayInput } from './core/day-input.js';
import { FarmCore } from './core/farm-core.js';
import { Day, NotCarriedOut } from './day.js';

/** A day that ends later than this after the present was dated by a clock that was ahead. */
const AHEAD_MS = 60_000;
/** Each input that throws costs playing its stretch once more; after so many the rest of it is left out (judgement). */
const MOST_LEFT_OUT = 20;

const isTold: ReadonlySet<DayInput['kind']> = new Set(['command', 'tray-event', 'left-out']);

export interface ReopenedDay {
  readonly day: Day;
  /** By how much it is dated earlier now, since the clock was ahead and was set back meanwhile; 0: it was not. */
  readonly wentBackMs: number;
  /** What was done once and could not be played again; it has never been. */
  readonly leftOut: readonly DayInput[];
}

/**
 * The day as it was kept, the house opened again at `startMs`. A reading or decision that can't be played any more is left out; what
 * came after it is played without. Undefined when its last stretch can't be played at all, or not what people told in it: that is
 * in the states kept beside the day.
 */
export function reopenDay(
  parts: CoreParts,
  past: readonly Chunk[],
  startMs: number,
  turn: string | undefined,
): ReopenedDay | undefined {
  const last = past.at(-1);
  if (last === undefined) return undefined;
  const playable = playableInputs(parts, last);
  if (playable === undefined) return undefined;
  const { inputs, leftOut } = playable;
  if (leftOut.some(({ kind }) => isTold.has(kind))) return undefined;
  const { core, chunks } = playChunks(parts, [{ ...last, inputs }]);
  const day = new Day(parts, core, true, [...past.slice(0, -1), ...chunks], turn);
  const aheadMs = core.nowMs - startMs;
  const wentBackMs = aheadMs > AHEAD_MS ? aheadMs : 0;
  try {
    // Not minus nothing: -0 is not kept as such.
    day.take({ kind: 'start', atMs: startMs, shiftMs: wentBackMs === 0 ? 0 : -wentBackMs });
  } catch (cause) {
    if (cause instanceof NotCarriedOut) return undefined;
    throw cause;
  }
  return { day, wentBackMs, leftOut };
}

interface Playable {
  readonly inputs: readonly DayInput[];
  readonly leftOut: readonly DayInput[];
}

/** The inputs of a chunk that can be played; undefined when not even its state can be used. */
function playableInputs(parts: CoreParts, chunk: Chunk): Playable | undefined {
  let inputs = chunk.inputs;
  const leftOut: DayInput[] = [];
  for (;;) {
    const badAt = firstThatThrows(parts, { ...chunk, inputs });
    if (badAt === undefined) return { inputs, leftOut };
    const bad = inputs[badAt];
    if (bad === undefined) return undefined;
    const isHopeless = leftOut.length >= MOST_LEFT_OUT;
    leftOut.push(...(isHopeless ? inputs.slice(badAt) : [bad]));
    const rest = isHopeless ? [] : inputs.slice(badAt + 1);
    inputs = [...inputs.slice(0, badAt), ...insteadOf(bad), ...rest];
  }
}

/** What falls due next must not be what could not be done. */
function insteadOf({ kind, atMs }: DayInput): readonly DayInput[] {
  return kind === 'due' ? [{ kind: 'passed-over', atMs }] : [];
}

/** Index of the first input that throws; -1: the state does; undefined: none. */
function firstThatThrows(parts: CoreParts, { state, inputs }: Chunk): number | undefined {
  let index = -1;
  try {
    const core = new FarmCore(parts, state);
    for (const input of inputs) {
      index++;
      core.play(input);
    }
    return undefined;
  } catch (cause) {
    if (cause instanceof RangeError || cause instanceof TypeError) return index;
    throw cause;
  }
}
