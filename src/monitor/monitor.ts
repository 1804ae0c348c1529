import type { Answer, Command } from '../../shared/command.js';
import type { WatchmanHealth } from '../watering/watering-desk.js';
import type { Fact, FactKind } from './facts.js';
import type { Pipeline } from './pipeline.js';
import type { Clock, FactStore, ProbeReader, Publisher } from './ports.js';
import { TURN, turnOf, turnState } from './turn.js';

/** The state documents of a monitor, by name, as kept in the store. */
export interface MonitorState {
  readonly model: () => unknown;
  readonly desk: () => unknown;
}

export interface MonitorParts {
  readonly pipeline: Pipeline;
  readonly state: MonitorState;
  readonly clock: Clock;
  readonly reader: ProbeReader;
  readonly store: FactStore;
  readonly publisher: Publisher;
  readonly cadenceS: number;
  /** Called with every fact after it was handed to store and publisher (page feed, terminal). */
  readonly onFacts: (facts: readonly Fact[]) => void;
}

const STATE_EVERY_MS = 15 * 60_000;
const calls = new Set<FactKind>(['call']);
/** Turns are numbered shortly: base 36. */
const TURN_RADIX = 36;
/** With these the states are saved in one go with the facts, so that nothing told or decided is forgotten when the power goes. */
const changesTheModel = new Set<FactKind>(['watering', 'tray-event', 'tray-event-undone']);

/** What Node's own functions throw when their signal is aborted. */
function isAbort(error: unknown): boolean {
  return error instanceof Error && error.name === 'AbortError';
}

/**
 * Drives the pipeline by a clock: every cadence all probes are read once, what falls due is done, facts are kept and
 * told. One thing at a time: samples, commands and clock ticks never interleave.
 */
export class Monitor {
  private readonly stop = new AbortController();
  private turn: Promise<void> = Promise.resolve();
  private running: Promise<void> = Promise.resolve();
  private lampLit = false;
  private savedAtMs = Number.NEGATIVE_INFINITY;
  private readonly standing = new Set<string>();
  private refCount = 0;
  private turnCount = 0;
  private readonly startedAt: string;

  constructor(private readonly parts: MonitorParts) {
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
  async command(command: Command, ref: string): Promise<Answer> {
    return this.inTurn(async () => {
      this.parts.pipeline.advanceTo(this.parts.clock.nowMs());
      const answer = this.parts.pipeline.command(command, ref);
      await this.handOn();
      return answer;
    });
  }

  /** Ends the reading, keeps the state, and returns when nothing is left to do. Store and publisher stay open. */
  async close(): Promise<void> {
    this.stop.abort();
    await this.running;
    await this.inTurn(async () => {
      await this.handOn();
      await this.saveState();
      await this.parts.store.flush();
    });
  }

  private async readOn(): Promise<void> {
    const { clock, cadenceS } = this.parts;
    const { signal } = this.stop;
    let dueMs = clock.nowMs();
    try {
      while (!signal.aborted) {
        await this.inTurn(() => this.readOnce());
        dueMs = Math.max(dueMs + cadenceS * 1000, clock.nowMs());
        await clock.sleep(dueMs - clock.nowMs(), signal);
      }
    } catch (error) {
      // Being told to stop in the middle of a reading or of the wait for the next is no fault.
      if (error !== signal.reason && !(signal.aborted && isAbort(error))) throw error;
    }
    if (this.failure !== undefined) throw this.failure;
  }

  private async readOnce(): Promise<void> {
    const { pipeline, reader, clock } = this.parts;
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
    if (clock.nowMs() - this.savedAtMs >= STATE_EVERY_MS) await this.saveState();
  }

  private outsideHealth(): readonly WatchmanHealth[] {
    const { reader, store, publisher } = this.parts;
    const boards = reader.health().map(({ boardId, state, sentence }): WatchmanHealth => {
      const ok = state === 'ready' || state === 'connecting';
      return { kind: 'board', source: boardId, ok, reason: state, sentence };
    });
    return [
      ...boards,
      { kind: 'store', source: 'store', ...store.health() },
      { kind: 'broker', source: 'broker', ...publisher.health() },
    ];
  }

  private async handOn(): Promise<void> {
    const facts = this.parts.pipeline.takeFacts();
    if (facts.length === 0) return;
    const { store, publisher, state, clock, onFacts } = this.parts;
    const has = (kinds: ReadonlySet<FactKind>): boolean => facts.some(({ kind }) => kinds.has(kind));
    this.turnCount += 1;
    const turn = turnOf(`${this.startedAt}-${this.turnCount.toString(TURN_RADIX)}`, facts);
    const withModel = has(changesTheModel);
    if (withModel) this.savedAtMs = clock.nowMs();
    // The model's state is half a megabyte: a call does not wait for it. What it forgets in a crash then it sees again.
    const modelFirst = withModel && !has(calls);
    const model = modelFirst ? { model: state.model() } : {};
    if (turn === undefined) await store.keep(facts);
    else await store.keep(facts, { desk: state.desk(), ...model, [TURN]: turnState(turn) });
    await publisher.tell(facts, turn?.id);
    if (withModel && !modelFirst) await store.saveState('model', state.model());
    await this.showCalls(facts);
    onFacts(facts);
  }

  /** Lamp and buzzer are on while any call is unacknowledged. */
  private async showCalls(facts: readonly Fact[]): Promise<void> {
    for (const fact of facts) {
      if (fact.kind !== 'alarm') continue;
      const { kind, tray, bench, source, state } = fact.transition;
      const key = `${kind}/${tray ?? bench ?? source ?? ''}`;
      if (state === 'unacknowledged') this.standing.add(key);
      else this.standing.delete(key);
    }
    const lit = this.standing.size > 0;
    if (lit === this.lampLit) return;
    this.lampLit = lit;
    await this.parts.reader.showCall(lit);
  }

  private async saveState(): Promise<void> {
    const { store, state, clock } = this.parts;
    this.savedAtMs = clock.nowMs();
    await store.saveState('desk', state.desk());
    await store.saveState('model', state.model());
  }

  private inTurn<T>(work: () => Promise<T>): Promise<T> {
    const result = this.turn.then(work);
    this.turn = result.then(
      () => undefined,
      () => undefined,
    );
    return result;
  }
}
