import { toInstant } from '../../shared/base/ids.js';
import { MS_PER_MIN } from '../../shared/base/time-units.js';
import type { ProbeConfig } from '../../shared/config/kit/probes.js';
import type { Forecast } from '../../shared/facts/forecast.js';
import type { TrayEvent } from '../../shared/facts/tray-life.js';
import type { TrayWhy } from '../../shared/page/page-why.js';
import type { Command } from '../../shared/wire/command.js';
import type { FarmModel } from '../drying/model/farm-model.js';
import type { ProbeJudge } from '../sensing/probe-judge.js';
import type { DeskView, WatchmanHealth, WateringDesk } from '../watering/desk/watering-desk.js';
import type { Undertaking } from '../watering/sentences/said/house-sentences.js';
import type { Said } from '../watering/sentences/said/said.js';
import type { ToldAnswer } from '../watering/sentences/said/told.js';
import type { CoreParts } from './day/core/core-parts.js';
import type { DayInput } from './day/core/day-input.js';
import type { TrayLevels } from './day/core/forecast-book.js';
import { type Day, NotCarriedOut } from './day/day.js';
import { tellDay } from './day/tell.js';
import { type MayUndo, undoRule } from './day/undo-rule.js';
import { NotDone } from './not-done.js';
import type { Fact } from './ports/facts.js';
import type { ProbeSample, States } from './ports/ports.js';
import { ExpectedDrying } from './readings/expected-drying.js';
import { rawUnitOf } from './readings/raw-unit.js';
import { ownHealth } from './readings/watchman.js';
import type { ClockStep } from './time/clock-watch.js';
import { narrowDay } from './why/narrow-day.js';
import { whyTray } from './why/why-tray.js';

/** What fell due in a shorter time that nobody saw is made up for, ms (judgement: three decisions). */
export const CATCH_UP_MS = 30 * MS_PER_MIN;

export interface PipelineParts {
  readonly probes: readonly ProbeConfig[];
  readonly core: CoreParts;
  readonly day: Day;
  readonly judgeOf: (probe: ProbeConfig) => ProbeJudge;
  /** False where nobody keeps readings (replay): saves the fact. */
  readonly readingFacts: boolean;
  /** Told of our own mistakes, which kept something from being carried out. */
  readonly complain?: ((mistake: unknown) => void) | undefined;
}

interface WatchedProbe {
  readonly probe: ProbeConfig;
  readonly judge: ProbeJudge;
}

/**
 * The whole job in one place, without a clock of its own: readings are judged, the model runs on, the desk decides.
 * Whoever drives it (live, demo, replay) hands over samples, tray events and commands in the order of time, calls
 * `advanceTo` between them, and takes the facts. Everything due at an instant is done after all that was handed over
 * for that instant.
 */
export class Pipeline {
  private watched: ReadonlyMap<string, WatchedProbe>;
  private expected = new ExpectedDrying();
  private readonly day: Day;
  private outside: readonly WatchmanHealth[] = [];
  private toldHealth = '';
  private readonly notDone = new NotDone();

  constructor(private readonly parts: PipelineParts) {
    this.day = parts.day;
    this.watched = this.freshJudges();
  }

  private freshJudges(): ReadonlyMap<string, WatchedProbe> {
    const { probes, judgeOf } = this.parts;
    return new Map(probes.map((probe) => [probe.id, { probe, judge: judgeOf(probe) }]));
  }

  /**
   * The clock was set, or time went by unseen, and it is `nowMs` now: what is remembered is dated anew, and what would have fallen due in
   * time that is over is not done any more. Probes are judged as after a start, since what they read before is dated otherwise.
   */
  clockStepped({ shiftMs, skippedMs }: ClockStep, nowMs: number): void {
    if (shiftMs === 0 && skippedMs <= CATCH_UP_MS) return;
    this.day.take({ kind: 'start', atMs: nowMs, shiftMs });
    if (shiftMs === 0) return;
    this.watched = this.freshJudges();
    this.expected = new ExpectedDrying();
  }

  /** The desk as it stands; only to be looked at. */
  get desk(): Pick<WateringDesk, 'trays' | 'probeTrays' | 'standing' | 'snapshot'> {
    return this.day.core.desk;
  }

  /** The model as it stands; only to be looked at. */
  get model(): Pick<FarmModel, 'contradictedH' | 'explain' | 'snapshot'> {
    return this.day.core.model;
  }

  /** State documents of the day that have changed since this was last asked, to be kept with this turn, or with none. */
  dayDocuments(turn?: string): States {
    return this.day.documents(turn);
  }

  /** Facts since the last call, in order. */
  takeFacts(): Fact[] {
    return this.day.takeFacts();
  }

  /** Health of parts outside the pipeline (boards, store, broker), looked at in the next decision. */
  setOutsideHealth(health: readonly WatchmanHealth[]): void {
    this.outside = health;
  }

  /** One sample of a configured probe; an unknown probe is our own mistake and throws RangeError. */
  sample(sample: ProbeSample): void {
    const watched = this.watched.get(sample.probeId);
    if (watched === undefined)
      throw new RangeError(`sample of a probe that is not configured: ${sample.probeId}`);
    const { judge, probe } = watched;
    const { probeId, observedAtMs, reason } = sample;
    // A number that is none is no answer: NaN never gets further than this.
    const rawValue = Number.isFinite(sample.rawValue) ? sample.rawValue : undefined;
    const expected = this.expected.sinceLast(probeId, observedAtMs, this.desk);
    const { reasons, ...judged } = judge.judge(observedAtMs, rawValue, expected);
    this.attempt('reading', { kind: 'reading', atMs: observedAtMs, probeId, rawValue, flag: judged.flag });
    if (judged.flag <= 2 && rawValue !== undefined) this.expected.noteClimate(probe, observedAtMs, rawValue);
    if (!this.parts.readingFacts) return;
    const flagReasons = reason === undefined ? reasons : [...reasons, reason];
    const reading = { probeId, observedAtMs, rawValue, rawUnit: rawUnitOf(probe), ...judged, flagReasons };
    this.day.say([{ kind: 'reading', reading }]);
  }

  /** What the grower's log or the configuration says happened to a tray at `atMs`. What our own mistake keeps from being done is noted. */
  trayEvent(event: TrayEvent, atMs: number): void {
    this.tellHealth();
    try {
      this.day.take({ kind: 'tray-event', atMs, event });
    } catch (error) {
      if (!(error instanceof NotCarriedOut)) throw error;
      this.parts.complain?.(error);
      const said = ['eventNotCarriedOut', event.event, event.tray] as const;
      this.day.say([{ kind: 'note', at: toInstant(atMs), tray: event.tray, said }]);
    }
  }

  /** What people told. The answer is also a fact. What our own mistake keeps from being done is answered, and has never been. */
  command(command: Command, ref: string): ToldAnswer {
    this.tellHealth();
    try {
      return tellDay(this.day, this.parts.core, command, ref);
    } catch (error) {
      if (!(error instanceof NotCarriedOut)) throw error;
      this.parts.complain?.(error);
      const answer: ToldAnswer = {
        ref,
        at: toInstant(this.day.core.nowMs),
        ok: false,
        code: 'not-carried-out',
        said: ['notCarriedOut', command.do],
      };
      this.day.say([{ kind: 'answer', answer }]);
      return answer;
    }
  }

  /** May a command be taken back, by ref; undefined where that is not known any more. */
  undoRule(): (ref: string) => MayUndo | undefined {
    return undoRule(this.day);
  }

  /** Something about the house itself that is to stand in the journal. */
  note(said: Said): void {
    this.day.say([{ kind: 'note', at: toInstant(this.day.core.nowMs), by: 'monitor', said }]);
  }

  /** Runs on to `toMs`: everything that falls due up to and including it is done in order. */
  advanceTo(toMs: number): void {
    while (this.doNext(toMs));
  }

  /**
   * Does the next thing that falls due up to and including `toMs`, true; or runs on to it when there is none, false. For who wants
   * to hand facts on in between.
   */
  doNext(toMs: number): boolean {
    const { day } = this;
    const due = day.core.nextDue();
    if (due.atMs > toMs) {
      if (toMs > day.core.nowMs) day.take({ kind: 'clock', atMs: toMs });
      return false;
    }
    if (due.what === 'decision') day.checkpoint(due.atMs);
    this.tellHealth(due.atMs);
    if (!this.attempt(due.what, { kind: 'due', atMs: due.atMs }))
      day.take({ kind: 'passed-over', atMs: due.atMs });
    return true;
  }

  /** Plays what nobody has asked for. False where our own mistake keeps it from being done: that is said, and the house goes on. */
  private attempt(what: Undertaking, input: DayInput): boolean {
    try {
      this.day.take(input);
    } catch (error) {
      if (!(error instanceof NotCarriedOut)) throw error;
      this.parts.complain?.(error);
      this.day.say(this.notDone.failed(what, input.atMs));
      return false;
    }
    this.notDone.done(what);
    return true;
  }

  /** True when people are to be called by what `takeFacts` will give: better hand it on at once. */
  get hasCall(): boolean {
    return this.day.hasCall;
  }

  /** True while any call waits for somebody to have seen it. */
  get callStands(): boolean {
    return this.desk.standing().alarms.some(({ state }) => state === 'unacknowledged');
  }

  /** Latest forecasts, hours counting from now. */
  view(): DeskView {
    return this.day.core.view();
  }

  /** Every tray's forecast as it is to be shown, by tray. */
  shownForecasts(): ReadonlyMap<string, Forecast> {
    return this.day.core.shownForecasts();
  }

  /** What the model takes for full and for ready, by tray, from the latest forecasts. */
  levels(): ReadonlyMap<string, TrayLevels> {
    return this.day.core.levels();
  }

  /**
   * Why a tray's forecast stands where it does, or stood at an instant of the last day: a piece at a time, for it costs as much as
   * playing that tray's day again some times over. Undefined for an instant before the day.
   */
  why(trayId: string, atMs: number): Generator<void, TrayWhy | undefined> | undefined {
    const { core } = this.day;
    const isNow = atMs >= core.nowMs;
    const elsewhere = [...core.desk.probeTrays()].flatMap(([probe, tray]) =>
      tray === trayId ? [] : [probe],
    );
    const { core: parts, probes } = this.parts;
    const untilMs = isNow ? core.nowMs : atMs;
    const farm = isNow ? core.model : undefined;
    const day = narrowDay(parts, this.day.past, trayId, new Set(elsewhere), untilMs, farm);
    return day && whyTray({ core: parts, probes, day, present: isNow ? core : undefined });
  }

  /** Health of every probe, of the monitor's own sight and decisions, and of the parts outside. */
  health(): readonly WatchmanHealth[] {
    return [...this.notDone.health(), ...this.partsHealth(this.day.core.nowMs)];
  }

  private partsHealth(nowMs: number): readonly WatchmanHealth[] {
    const judged = [...this.watched.values()].map(({ probe, judge }) => ({
      id: probe.id,
      ...judge.health(nowMs),
    }));
    return [...ownHealth(judged), ...this.outside];
  }

  /** The desk decides by what was last said of the parts of the house. */
  private tellHealth(nowMs = this.day.core.nowMs): void {
    const health = this.partsHealth(nowMs);
    const text = JSON.stringify(health);
    if (text === this.toldHealth) return;
    this.toldHealth = text;
    this.day.take({ kind: 'health', atMs: nowMs, health });
  }
}
