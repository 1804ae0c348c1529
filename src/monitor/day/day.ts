import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { ToldAnswer } from '../../watering/sentences/said/told.js';
import type { Fact } from '../ports/facts.js';
import type { States } from '../ports/ports.js';
import { type Chunk, type Played, playChunks } from './chunk.js';
import type { CoreParts } from './core/core-parts.js';
import type { DayInput } from './core/day-input.js';
import { FarmCore } from './core/farm-core.js';
import { DayKeeper, MOST_CHUNKS } from './kept-day.js';

/** Two hours more than an undo reaches, for what was told late. */
const REMEMBER_MS = 26 * MS_PER_HOUR;
const CHUNK_MS = 2 * MS_PER_HOUR;
/** Bound on what is remembered; beyond it the oldest goes first, and an undo reaches less far back. */
const MAX_INPUTS = 400_000;

/** What our own mistake kept from being carried out; `cause` is the mistake. Nothing of it has happened. */
export class NotCarriedOut extends Error {
  override readonly name = 'NotCarriedOut';
}

/** The past played as it was, and played otherwise, from one chunk on. */
export interface Rewrite {
  readonly from: number;
  readonly before: Played;
  readonly after: Played;
}

/**
 * The farm's last day: where it stood every two hours, and all that has reached it since. Desk and model only ever come from playing
 * these inputs, so that taking one back is leaving it out and playing the rest again: done and undone is never said. What throws is
 * left out the same way.
 */
export class Day {
  private readonly chunks: Chunk[];
  private readonly keeper: DayKeeper;
  /** Inputs of the last chunk, which grow. */
  private open: DayInput[] = [];
  private said: Fact[] = [];

  /**
   * @param present the farm as it stands, come from playing `past` if there is any
   * @param remembers false where nothing is undone (replay): then no input is kept
   * @param turn id of the last turn that was kept, if any
   */
  constructor(
    private readonly parts: CoreParts,
    private present: FarmCore,
    private readonly remembers: boolean,
    past: readonly Chunk[] = [],
    turn?: string,
  ) {
    this.keeper = new DayKeeper(past, turn);
    this.chunks = [...past];
    if (past.length === 0) this.openChunk();
    else this.reopenLast();
  }

  /** The farm as it stands; another object after each checkpoint and each undo. */
  get core(): FarmCore {
    return this.present;
  }

  /** What is remembered, oldest first. */
  get past(): readonly Chunk[] {
    return this.chunks;
  }

  takeFacts(): Fact[] {
    const facts = this.said.length === 0 ? this.present.takeFacts() : this.said;
    if (facts === this.said) facts.push(...this.present.takeFacts());
    this.said = [];
    return facts;
  }

  get hasCall(): boolean {
    return this.present.hasCall || this.said.some(({ kind }) => kind === 'call');
  }

  /** Something to be told that no input gave. */
  say(facts: readonly Fact[]): void {
    this.said.push(...this.present.takeFacts(), ...facts);
  }

  /** Plays an input and remembers it; a command is answered. When it throws, so does this, and the input has never been. */
  take(input: DayInput): ToldAnswer | undefined {
    if (!this.remembers) return this.present.play(input);
    this.say([]);
    let answer: ToldAnswer | undefined;
    try {
      answer = this.present.play(input);
    } catch (cause) {
      this.present = this.playAgain(this.chunks.length - 1).core;
      throw new NotCarriedOut(`${input.kind} was not carried out`, { cause });
    }
    const before = this.open.at(-1);
    if (input.kind === 'clock' && before?.kind === 'clock') this.open[this.open.length - 1] = input;
    else this.open.push(input);
    return answer;
  }

  /** Ends a stretch where a decision falls due on a full two hours; the next begins from what can be kept. */
  checkpoint(atMs: number): void {
    if (!this.remembers || atMs % CHUNK_MS !== 0) return;
    this.openChunk();
    while (this.hasTooMuch(atMs)) this.chunks.shift();
  }

  /** The chunk in which something of this instant belongs, and the place of the first input after it; undefined: too long ago. */
  placeOf(atMs: number): { readonly chunk: number; readonly at: number } | undefined {
    const chunk = this.chunks.findLastIndex(({ state }) => state.nowMs <= atMs);
    const inputs = this.chunks[chunk]?.inputs;
    if (inputs === undefined) return undefined;
    const later = inputs.findIndex((input) => input.atMs > atMs);
    return { chunk, at: later < 0 ? inputs.length : later };
  }

  /**
   * Plays the day from a chunk on as it was, and with the inputs that `change` makes of each chunk's. Nothing has changed until it is
   * committed. Throws what the farm throws.
   */
  rewrite(from: number, change: (inputs: readonly DayInput[]) => readonly DayInput[]): Rewrite {
    return {
      from,
      before: this.playAgain(from),
      after: this.playAgain(from, ({ inputs }) => change(inputs)),
    };
  }

  /** From now on it was otherwise. */
  commit({ from, after }: Rewrite): void {
    this.say([]);
    this.chunks.splice(from, Number.POSITIVE_INFINITY, ...after.chunks);
    this.present = after.core;
    this.reopenLast();
  }

  /** State documents that have changed since this was last asked, to be kept with this turn or with the last one. */
  documents(turn?: string): States {
    return this.remembers ? this.keeper.documents(this.chunks, turn) : {};
  }

  private playAgain(from: number, inputsOf?: (chunk: Chunk) => readonly DayInput[]): Played {
    return playChunks(this.parts, this.chunks.slice(from), inputsOf);
  }

  private openChunk(): void {
    if (!this.remembers) return;
    this.say([]);
    const state = this.present.state();
    // The house goes on from what it would come back to: playing the day again can't differ from it.
    this.present = new FarmCore(this.parts, state);
    this.open = [];
    this.chunks.push({ number: (this.chunks.at(-1)?.number ?? -1) + 1, state, inputs: this.open });
  }

  private reopenLast(): void {
    const last = this.chunks.pop();
    if (last === undefined) return;
    this.open = [...last.inputs];
    this.chunks.push({ ...last, inputs: this.open });
  }

  private hasTooMuch(nowMs: number): boolean {
    const [, second] = this.chunks;
    if (second === undefined) return false;
    const inputCount = this.chunks.reduce((sum, { inputs }) => sum + inputs.length, 0);
    const isOld = nowMs - second.state.nowMs > REMEMBER_MS;
    return isOld || inputCount > MAX_INPUTS || this.chunks.length > MOST_CHUNKS;
  }
}
