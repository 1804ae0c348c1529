import { toInstant } from '../../shared/base/ids.js';
import { MS_PER_MIN } from '../../shared/base/time-units.js';
import type { Command } from '../../shared/wire/command.js';
import type { WatchmanHealth } from '../watering/desk/watering-desk.js';
import type { Said } from '../watering/sentences/said/said.js';
import type { ToldAnswer } from '../watering/sentences/said/told.js';
import { notKeptYet } from './not-kept-yet.js';
import { CATCH_UP_MS, type Pipeline } from './pipeline.js';
import type { Fact } from './ports/facts.js';
import { PLAYING, playingState } from './ports/playing.js';
import type { Clock, FactStore, ProbeReader, Publisher, States } from './ports/ports.js';
import { TURN, turnOf, turnState } from './ports/turn.js';
import type { ClockStep } from './time/clock-watch.js';
import { ClockWatch } from './time/clock-watch.js';
import { Turns } from './turns.js';

export interface MonitorParts {
  readonly pipeline: Pipeline;
  readonly clock: Clock;
  readonly reader: ProbeReader;
  readonly store: FactStore;
  readonly publisher: Publisher;
  readonly cadenceS: number;
  /** Seconds of this clock in one second: a fast clock runs far while the machine does something else. */
  readonly clockSpeed: number;
  /** By how much the state was dated earlier at the start, since the clock had been set back; 0: it was not. */
  readonly wentBackMs: number;
  /** Called with every fact after it was handed to store and publisher (page feed, terminal). */
  readonly onFacts: (facts: readonly Fact[]) => void;
  /** Called whenever the loop that reads and decides has come round, at least every 20 s of this machine's time while it is well. */
  readonly onBeat?: (() => void) | undefined;
}

/** How long the loop sleeps between two beats, in one second of this machine for each of the clock. */
const BEAT_MS = 20_000;
const STATE_EVERY_MS = 15 * MS_PER_MIN;
/** That the clock was set by much is called about for so long. */
const CLOCK_SAID_MS = 60 * MS_PER_MIN;
/** A look at the clock that comes so many cadences late comes after a standstill. */
const LATE_CADENCES = 3;
/** Turns are numbered shortly: base 36. */
const TURN_RADIX = 36;

/** What Node's own functions throw when their signal is aborted. */
function isAbort(error: unknown): boolean {
  return error instanceof Error && error.name === 'AbortError';
}

/**
 * Drives the pipeline by a clock: every cadence all probes are read once, what falls due is done, facts are kept and
 * told. One thing at a time: samples, commands and clock ticks never interleave, and a sample goes before
 * commands that wait.
 */
export class Monitor {
  private readonly stop = new AbortController();
  private readonly turns = new Turns();
  private running: Promise<void> = Promise.resolve();
  private lampLit = false;
  /** The store holds what is being done; at first that the house is being opened. */
  private isPlaying = true;
  /** When the states were saved and what stands of the clock, in elapsed time: it goes on whatever the wall clock is set to. */
  private savedAtMs = Number.NEGATIVE_INFINITY;
  private clockSaid: { readonly untilMs: number; readonly own: Said } | undefined;
  private readonly clockWatch: ClockWatch;
  /** Something was answered as done and waits in memory for the disk. */
  private hasHeldAnswer = false;
  private refCount = 0;
  private turnCount = 0;
  private readonly startedAt: string;

  constructor(private readonly parts: MonitorParts) {
    const { clock, cadenceS, clockSpeed, wentBackMs } = parts;
    const longestStillMs = Math.max(CATCH_UP_MS * clockSpeed, LATE_CADENCES * cadenceS * 1000);
    this.clockWatch = new ClockWatch(clock, longestStillMs, wentBackMs);
    if (wentBackMs > 0) this.sayClock({ shiftMs: -wentBackMs, skippedMs: 0, why: 'set-back' });
    this.startedAt = parts.clock.nowMs().toString(TURN_RADIX);
    parts.publisher.onCommand((command, ref) => {
      this.command(command, ref).catch((error: unknown) => this.fail(error));
    });
    parts.reader.onAcknowledge((boardId) => {
      this.refCount += 1;
      const ref = `button-${boardId}-${this.refCount}`.slice(0, 40);
      this.command({ do: 'acknowledge', by: `button ${boardId}`.slice(0, 40) }, ref).catch((error: unknown) =>
        this.fail(error),
      );
    });
  }

  private failure: unknown;
  private fail(error: unknown): void {
    this.failure ??= error;
    this.stop.abort(error);
  }

  /** Starts reading; `finished` settles when it was stopped, or rejects with what went wrong. */
  start(): { readonly finished: Promise<void> } {
    this.running = this.readOn();
    return { finished: this.running };
  }

  /** One command from anywhere, answered. */
  async command(command: Command, ref: string): Promise<ToldAnswer> {
    return this.turns.take(async () => {
      this.followClock();
      this.parts.pipeline.advanceTo(this.parts.clock.nowMs());
      await this.notePlaying(command, ref);
      const answer = this.parts.pipeline.command(command, ref);
      const told = await this.handOn();
      return told.flatMap((fact) => (fact.kind === 'answer' ? [fact.answer] : [])).at(-1) ?? answer;
    });
  }

  /** What ends the process while it is being done is not done a second time. */
  private async notePlaying(command: Command, ref: string): Promise<void> {
    const { store, clock } = this.parts;
    this.isPlaying = true;
    const at = toInstant(clock.nowMs());
    await store.saveState(PLAYING, playingState({ what: 'command', at, ref, command }));
  }

  /** Goes with what it has led to: after a crash both are there or neither. */
  private takePlayed(): States {
    if (!this.isPlaying) return {};
    this.isPlaying = false;
    return { [PLAYING]: playingState(undefined) };
  }

  /** Ends the reading, keeps the state, and returns when nothing is left to do. Store and publisher stay open. */
  async close(): Promise<void> {
    this.stop.abort();
    await this.running;
    await this.turns.take(async () => {
      await this.handOn();
      await this.saveState();
      await this.parts.store.flush();
    });
  }

  private async readOn(): Promise<void> {
    const { clock, cadenceS } = this.parts;
    const { signal } = this.stop;
    let dueMs = clock.monotonicMs();
    try {
      await this.turns.take(() => this.showCalls(), true);
      while (!signal.aborted) {
        await this.turns.take(() => this.readOnce(), true);
        dueMs = Math.max(dueMs + cadenceS * 1000, clock.monotonicMs());
        await this.sleepUntil(dueMs);
      }
    } catch (error) {
      // Being told to stop in the middle of a reading or of the wait for the next is no fault.
      if (error !== signal.reason && !(signal.aborted && isAbort(error))) throw error;
    }
    if (this.failure !== undefined) throw this.failure;
  }

  /** Sleeps in pieces where somebody wants to know that the loop still goes round. */
  private async sleepUntil(dueMs: number): Promise<void> {
    const { clock, clockSpeed, onBeat } = this.parts;
    const pieceMs = onBeat === undefined ? Number.POSITIVE_INFINITY : BEAT_MS * clockSpeed;
    do {
      onBeat?.();
      await clock.sleep(Math.min(pieceMs, dueMs - clock.monotonicMs()), this.stop.signal);
    } while (clock.monotonicMs() < dueMs);
  }

  /** A clock that was set since the last look is followed before anything else is dated by it. */
  private followClock(): void {
    const step = this.clockWatch.look();
    if (step === undefined) return;
    this.parts.pipeline.clockStepped(step, this.parts.clock.nowMs());
    this.sayClock(step);
  }

  private sayClock(step: ClockStep): void {
    const own: Said = ['clockStep', step];
    this.parts.pipeline.note(own);
    if (Math.abs(step.shiftMs) + step.skippedMs > CATCH_UP_MS)
      this.clockSaid = { untilMs: this.parts.clock.monotonicMs() + CLOCK_SAID_MS, own };
  }

  private async readOnce(): Promise<void> {
    const { pipeline, reader, clock } = this.parts;
    this.followClock();
    const samples = await reader.sample(this.stop.signal);
    const ordered = [...samples].sort((a, b) => a.observedAtMs - b.observedAtMs);
    for (const sample of ordered) {
      pipeline.advanceTo(sample.observedAtMs - 1);
      pipeline.sample(sample);
    }
    pipeline.setOutsideHealth(this.outsideHealth());
    const nowMs = clock.nowMs();
    while (pipeline.doNext(nowMs)) if (pipeline.hasCall) await this.handOn();
    await this.handOn();
    if (clock.monotonicMs() - this.savedAtMs >= STATE_EVERY_MS) await this.saveState();
  }

  private outsideHealth(): readonly WatchmanHealth[] {
    const { reader, store, publisher } = this.parts;
    const boards = reader.health().map(({ boardId, state, own }): WatchmanHealth => {
      const ok = state === 'ready' || state === 'connecting';
      return { kind: 'board', source: boardId, ok, reason: state, own };
    });
    return [
      ...this.clockHealth(),
      ...boards,
      { kind: 'store', source: 'store', ...store.health() },
      { kind: 'broker', source: 'broker', ...publisher.health() },
    ];
  }

  private clockHealth(): readonly WatchmanHealth[] {
    if (this.clockSaid === undefined) return [];
    const { untilMs, own } = this.clockSaid;
    const isOld = this.parts.clock.monotonicMs() >= untilMs;
    return [{ kind: 'monitor', source: 'clock', ok: isOld, reason: isOld ? 'ok' : 'clock-set', own }];
  }

  /** Keeps and tells what the pipeline has; what is told, says whether it is on the disk. */
  private async handOn(): Promise<readonly Fact[]> {
    const facts = this.parts.pipeline.takeFacts();
    if (facts.length === 0) return [];
    const { pipeline, store, publisher, onFacts } = this.parts;
    this.turnCount += 1;
    const turn = turnOf(`${this.startedAt}-${this.turnCount.toString(TURN_RADIX)}`, facts);
    // With the facts goes the day that they came of, so that nothing told or decided is forgotten when the power goes.
    const states =
      turn === undefined
        ? this.takePlayed()
        : {
            ...this.takePlayed(),
            desk: pipeline.desk.snapshot(),
            ...pipeline.dayDocuments(turn.id),
            [TURN]: turnState(turn),
          };
    const isKept = await store.keep(facts, states);
    if (isKept && this.hasHeldAnswer) pipeline.note(['keptAfterAll']);
    const told = isKept ? facts : facts.map(notKeptYet);
    this.hasHeldAnswer = !isKept && (this.hasHeldAnswer || told.some((fact, index) => fact !== facts[index]));
    await publisher.tell(told, turn?.id);
    await this.showCalls();
    onFacts(told);
    return told;
  }

  /** Lamp and buzzer are on while any call is unacknowledged. */
  private async showCalls(): Promise<void> {
    const lit = this.parts.pipeline.callStands;
    if (lit === this.lampLit) return;
    this.lampLit = lit;
    await this.parts.reader.showCall(lit);
  }

  private async saveState(): Promise<void> {
    const { pipeline, store, clock } = this.parts;
    this.savedAtMs = clock.monotonicMs();
    const { desk, model } = pipeline;
    await store.keep([], {
      ...this.takePlayed(),
      desk: desk.snapshot(),
      model: model.snapshot(),
      ...pipeline.dayDocuments(),
    });
  }
}
