import type { Flag } from '../../shared/reading.js';
import { shiftedInstants } from '../../shared/shifted-instants.js';
import type { TrayEvent } from '../../shared/tray-life.js';
import type { FarmModel, ModelEvent, TrayBelief } from '../drying/farm-model.js';
import { shiftSnapshot } from '../drying/shift-snapshot.js';
import type { TrayForecast } from '../drying/tray-forecast.js';
import { tellModel } from './tell-model.js';

/** Everything that reaches the model, as data: kept for a day so that an undone event can be taken back. */
type ModelInput =
  | {
      readonly kind: 'observe';
      readonly atMs: number;
      readonly probeId: string;
      readonly rawValue: number | undefined;
      readonly flag: Flag;
    }
  | { readonly kind: 'tray-event'; readonly atMs: number; readonly event: TrayEvent }
  | {
      readonly kind: 'watering';
      readonly atMs: number;
      readonly trayId: string;
      readonly ml: number | undefined;
    }
  | {
      readonly kind: 'perhaps-watered';
      readonly atMs: number;
      readonly trayId: string;
      readonly probability: number;
    }
  | { readonly kind: 'advance'; readonly atMs: number };

/** What says how a tray was at an instant. */
const observations: ReadonlySet<TrayEvent['event']> = new Set(['looked', 'weighed', 'ready-for-water']);

interface Checkpoint {
  readonly atMs: number;
  readonly snapshot: unknown;
  /** Inputs since this checkpoint, up to the next. */
  readonly inputs: ModelInput[];
}

const MS_PER_H = 3_600_000;
/** An event can be undone for a day; two hours more for events told late. */
const REMEMBER_MS = 26 * MS_PER_H;
const CHECKPOINT_MS = 2 * MS_PER_H;
/** Told this long after, a look is a late one. */
const LATE_MS = 10 * 60_000;
/** Bound on what is remembered; beyond it the oldest goes first, and an undo reaches less far back. */
const MAX_INPUTS = 400_000;

function concerns(input: ModelInput, undone: TrayEvent): boolean {
  const atMs = Date.parse(undone.at);
  if (input.kind === 'watering')
    return undone.event === 'watered' && input.trayId === undone.tray && input.atMs === atMs;
  return (
    input.kind === 'tray-event' &&
    input.atMs === atMs &&
    input.event.tray === undone.tray &&
    input.event.event === undone.event
  );
}

/**
 * The model with a memory of its last day. `strikeOut` goes back to the checkpoint before the undone event and plays
 * everything since without it, so that an undone watering leaves no trace in what is believed.
 */
export class ModelKeeper {
  private checkpoints: Checkpoint[] = [];
  private inputCount = 0;
  /** How far it has been told. */
  private toldMs = Number.NEGATIVE_INFINITY;

  /**
   * @param model the model as it stands at `nowMs`
   * @param restore makes a model from a snapshot; absent: nothing is remembered and nothing can be undone (replay)
   */
  constructor(
    private model: FarmModel,
    nowMs: number,
    private readonly restore?: (snapshot: unknown) => FarmModel,
  ) {
    this.checkpoint(nowMs);
  }

  observe(probeId: string, atMs: number, rawValue: number | undefined, flag: Flag): void {
    this.take({ kind: 'observe', atMs, probeId, rawValue, flag });
  }

  /** A look, a weight, "ready" told late is of the tray as it was then: it is played where it belongs. */
  trayEvent(event: TrayEvent, atMs: number): void {
    const input: ModelInput = { kind: 'tray-event', atMs, event };
    const isLate = this.restore !== undefined && this.toldMs - atMs > LATE_MS;
    if (isLate && observations.has(event.event)) this.insert(input);
    else this.take(input);
  }

  watering(trayId: string, atMs: number, ml: number | undefined): void {
    this.take({ kind: 'watering', atMs, trayId, ml });
  }

  perhapsWatered(trayId: string, atMs: number, probability: number): void {
    this.take({ kind: 'perhaps-watered', atMs, trayId, probability });
  }

  advanceTo(atMs: number): readonly ModelEvent[] {
    const last = this.checkpoints.at(-1);
    if (last !== undefined && atMs - last.atMs >= CHECKPOINT_MS) this.checkpoint(atMs);
    return this.take({ kind: 'advance', atMs });
  }

  forecast(trayId: string): TrayForecast {
    return this.model.forecast(trayId);
  }

  explain(trayId: string): TrayBelief {
    return this.model.explain(trayId);
  }

  snapshot(): unknown {
    return this.model.snapshot();
  }

  /** The clock was set: what it dated so far is dated `byMs` later. */
  shiftTime(byMs: number): void {
    if (this.restore === undefined) return;
    this.model = this.restore(shiftSnapshot(this.model.snapshot(), byMs));
    this.toldMs += byMs;
    this.checkpoints = this.checkpoints.map(({ atMs, snapshot, inputs }) => ({
      atMs: atMs + byMs,
      snapshot: shiftSnapshot(snapshot, byMs),
      inputs: shiftedInstants(inputs, byMs) as ModelInput[],
    }));
  }

  /**
   * Takes an event back. False when it lies before what is remembered (or nothing is): then the model keeps what it
   * made of it, and readings correct it in time.
   */
  strikeOut(undone: TrayEvent): boolean {
    return this.strike((input) => concerns(input, undone));
  }

  /** Somebody says that what was perhaps watered at `atMs` was not: as with `strikeOut`. */
  notWatered(trayId: string, atMs: number): boolean {
    return this.strike(
      (input) => input.kind === 'perhaps-watered' && input.trayId === trayId && input.atMs === atMs,
    );
  }

  private strike(isStruck: (input: ModelInput) => boolean): boolean {
    const index = this.checkpoints.findIndex(({ inputs }) => inputs.some(isStruck));
    const from = this.checkpoints[index];
    if (from === undefined || this.restore === undefined) return false;
    this.model = this.restore(from.snapshot);
    this.playAgain(index, (inputs) => inputs.filter((input) => !isStruck(input)));
    return true;
  }

  /** Plays everything since the checkpoint before this input again, with it. Older than what is remembered, it is left out. */
  private insert(input: ModelInput): void {
    const index = this.checkpoints.findLastIndex(({ atMs }) => atMs <= input.atMs);
    const from = this.checkpoints[index];
    if (from === undefined || this.restore === undefined) return;
    const place = from.inputs.findIndex(({ atMs }) => atMs > input.atMs);
    const at = place < 0 ? from.inputs.length : place;
    this.model = this.restore(from.snapshot);
    this.inputCount += 1;
    this.playAgain(index, (inputs) => (inputs === from.inputs ? inputs.toSpliced(at, 0, input) : inputs));
  }

  /** Plays the checkpoints from one on, with the inputs that `change` makes of theirs. */
  private playAgain(index: number, change: (inputs: ModelInput[]) => ModelInput[]): void {
    const replayed = this.checkpoints.splice(index);
    for (const { atMs, inputs } of replayed) {
      const kept = change(inputs);
      this.checkpoints.push({ atMs, snapshot: this.model.snapshot(), inputs: kept });
      for (const input of kept) this.apply(input);
    }
  }

  private take(input: ModelInput): readonly ModelEvent[] {
    this.toldMs = Math.max(this.toldMs, input.atMs);
    if (this.restore !== undefined) {
      this.checkpoints.at(-1)?.inputs.push(input);
      this.inputCount += 1;
    }
    return this.apply(input);
  }

  private apply(input: ModelInput): readonly ModelEvent[] {
    switch (input.kind) {
      case 'observe':
        this.model.observe(input.probeId, input.atMs, input.rawValue, input.flag);
        return [];
      case 'tray-event':
        tellModel(this.model, input.event, input.atMs);
        return [];
      case 'watering':
        this.model.recordWatering(input.trayId, input.atMs, input.ml);
        return [];
      case 'perhaps-watered':
        this.model.recordPerhapsWatered(input.trayId, input.atMs, input.probability);
        return [];
      case 'advance':
        return this.model.advanceTo(input.atMs);
    }
  }

  private checkpoint(atMs: number): void {
    if (this.restore === undefined) return;
    this.checkpoints.push({ atMs, snapshot: this.model.snapshot(), inputs: [] });
    while (this.checkpoints.length > 1 && this.isForgotten(atMs)) {
      this.inputCount -= this.checkpoints.shift()?.inputs.length ?? 0;
    }
  }

  private isForgotten(nowMs: number): boolean {
    const second = this.checkpoints[1];
    return second !== undefined && (nowMs - second.atMs > REMEMBER_MS || this.inputCount > MAX_INPUTS);
  }
}
