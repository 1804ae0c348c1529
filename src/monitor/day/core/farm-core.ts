import { shiftedInstants } from '../../../../shared/base/shifted-instants.js';
import type { Forecast } from '../../../../shared/facts/forecast.js';
import type { Command } from '../../../../shared/wire/command.js';
import type { FarmModel, ModelEvent } from '../../../drying/model/farm-model.js';
import type {
  DeskEffect,
  DeskView,
  WatchmanHealth,
  WateringDesk,
} from '../../../watering/desk/watering-desk.js';
import type { ToldAnswer } from '../../../watering/sentences/said/told.js';
import type { Fact } from '../../ports/facts.js';
import { type Due, Schedule } from '../../time/schedule.js';
import { Climate } from './climate.js';
import { type CoreParts, type CoreState, type Denial, scheduleFrom } from './core-parts.js';
import type { DayInput } from './day-input.js';
import type { TrayLevels } from './forecast-book.js';
import { RunningModel } from './running-model.js';
import { toldBy } from './told-by.js';

/** What comes after everything that falls due at its own instant; readings and log rows come before it. */
const told: ReadonlySet<DayInput['kind']> = new Set(['command', 'clock']);

/**
 * Desk, model and schedule of a farm as one machine: plays inputs, gives facts. It has no clock and looks at nothing else, so that a
 * day can be played again.
 */
export class FarmCore {
  desk: WateringDesk;
  private readonly running: RunningModel;
  private climate: Climate;
  private schedule: Schedule;
  private health: readonly WatchmanHealth[];
  private out: Fact[] = [];
  private denied: Denial[] = [];
  private firstReadingMs: number | undefined;
  private presentMs: number;

  constructor(
    private readonly parts: CoreParts,
    state: CoreState,
  ) {
    this.desk = parts.createDesk(state.desk);
    this.running = new RunningModel(parts, state);
    this.climate = new Climate(state.climate);
    this.schedule = Schedule.from(state.schedule, parts.rounds, parts.noticeLeadMin);
    this.health = state.health;
    this.firstReadingMs = state.firstReadingMs;
    this.presentMs = state.nowMs;
  }

  /** A farm that starts at an instant, with what is known of desk and model from before, if anything is. */
  static startingAt(parts: CoreParts, startMs: number, desk?: unknown, model?: unknown): FarmCore {
    const noticed = parts.createDesk(desk).standing().notice?.round;
    const schedule = scheduleFrom(parts, startMs, noticed === undefined ? [] : [Date.parse(noticed)]);
    return new FarmCore(parts, {
      nowMs: startMs,
      modelMs: null,
      schedule: schedule.kept(),
      climate: [],
      health: [],
      desk,
      model,
    });
  }

  get model(): FarmModel {
    return this.running.model;
  }

  get nowMs(): number {
    return this.presentMs;
  }

  /** The next thing that falls due. */
  nextDue(): Due {
    return this.schedule.next();
  }

  /** Facts since the last call, in order. */
  takeFacts(): Fact[] {
    const facts = this.out;
    this.out = [];
    return facts;
  }

  /** What was denied since the last call: better known at the round itself. */
  takeDenied(): readonly Denial[] {
    const denied = this.denied;
    this.denied = [];
    return denied;
  }

  /** True when people are to be called by what `takeFacts` will give. */
  get hasCall(): boolean {
    return this.out.some(({ kind }) => kind === 'call');
  }

  /**
   * Plays one input; a command is answered. What falls due before it is done first: whoever hands it over has seen to that, and when
   * the day is played otherwise other things fall due. What throws here is our own mistake, and leaves this core unusable.
   */
  play(input: DayInput): ToldAnswer | undefined {
    this.doOverdue(input);
    switch (input.kind) {
      case 'reading':
        this.firstReadingMs ??= input.atMs;
        this.model.observe(input.probeId, input.atMs, input.rawValue, input.flag);
        this.noteBelieved(input);
        return undefined;
      case 'health':
        this.health = input.health;
        return undefined;
      case 'clock':
        this.presentMs = Math.max(this.presentMs, input.atMs);
        return undefined;
      case 'start':
        this.startAgain(input);
        this.running.forgetAll(this.trayIds());
        this.tellNewForecasts();
        return undefined;
      case 'due':
        if (this.schedule.next().atMs <= input.atMs) this.doDue(this.schedule.next());
        return undefined;
      case 'passed-over':
        this.presentMs = Math.max(this.presentMs, input.atMs);
        if (this.schedule.next().atMs <= input.atMs) this.schedule.done(this.schedule.next());
        return undefined;
      case 'left-out':
        this.desk.leaveOut(input.trayIds, input.atMs);
        return undefined;
      case 'tray-event':
        this.runModelTo(input.atMs);
        this.carryOut(this.desk.trayEvent(input.event, this.view()));
        this.tellNewForecasts();
        return undefined;
      case 'command':
        this.presentMs = Math.max(this.presentMs, input.atMs);
        return this.obey(input.command, input.ref);
    }
  }

  /** Latest forecasts, hours counting from now. */
  view(): DeskView {
    const { rounds, quietUntil } = this.parts;
    this.runModelTo(this.presentMs);
    return {
      nowMs: this.presentMs,
      rounds,
      quietUntilMs: quietUntil(this.presentMs),
      forecasts: this.running.forecasts(this.presentMs, this.trayIds()),
      temperatureC: this.climate.temperaturesC(this.presentMs),
      health: this.health,
    };
  }

  /** Every tray's forecast as it is to be shown, brought forward to the model's last step. */
  shownForecasts(): ReadonlyMap<string, Forecast> {
    return this.running.shown(this.presentMs, this.trayIds());
  }

  /** What the model takes for full and for ready, by tray, from the latest forecasts. */
  levels(): ReadonlyMap<string, TrayLevels> {
    return this.running.levels();
  }

  state(): CoreState {
    return {
      nowMs: this.presentMs,
      modelMs: this.running.modelMs,
      ...(this.firstReadingMs === undefined ? {} : { firstReadingMs: this.firstReadingMs }),
      schedule: this.schedule.kept(),
      climate: this.climate.kept(),
      health: this.health,
      desk: this.desk.snapshot(),
      model: this.model.snapshot(),
    };
  }

  private shiftTime(byMs: number): void {
    this.desk = this.parts.createDesk(shiftedInstants(this.desk.snapshot(), byMs));
    this.running.shiftTime(byMs);
    this.climate = new Climate();
    this.presentMs += byMs;
  }

  private trayIds(): readonly string[] {
    return this.desk.trays().map(({ id }) => id);
  }

  private noteBelieved({ probeId, atMs, rawValue, flag }: Extract<DayInput, { kind: 'reading' }>): void {
    const benchId = this.parts.airBenches.get(probeId);
    if (benchId !== undefined && flag <= 2 && rawValue !== undefined)
      this.climate.note(benchId, atMs, rawValue);
  }

  private obey(command: Command, ref: string): ToldAnswer {
    const { answer, effects } = this.desk.command(command, ref, this.view());
    const before = this.out.length;
    this.carryOut(effects);
    this.out = this.out.map((fact, place) => (place < before ? fact : toldBy(fact, command, ref)));
    this.out.push({ kind: 'answer', answer });
    if (answer.ok) this.decide();
    return answer;
  }

  private doOverdue({ kind, atMs }: DayInput): void {
    // What would have fallen due while the house was closed is past.
    if (kind === 'start') return;
    const untilMs = told.has(kind) ? atMs : atMs - 1;
    for (let due = this.schedule.next(); due.atMs <= untilMs; due = this.schedule.next()) this.doDue(due);
  }

  private startAgain({ atMs, shiftMs }: Extract<DayInput, { kind: 'start' }>): void {
    if (shiftMs !== 0) this.shiftTime(shiftMs);
    this.presentMs = Math.max(this.presentMs, atMs);
    const { noticedRoundMs } = this.schedule;
    const noticed = this.desk.standing().notice?.round;
    const known = [
      ...(noticedRoundMs === undefined ? [] : [noticedRoundMs + shiftMs]),
      ...(noticed === undefined ? [] : [Date.parse(noticed)]),
    ];
    this.schedule = scheduleFrom(this.parts, this.presentMs, known);
  }

  private doDue(due: Due): void {
    this.runModelTo(due.atMs);
    if (!this.isWaiting()) {
      if (due.what === 'forecasts') this.out.push(...this.running.renewed(this.presentMs, this.trayIds()));
      else if (due.what === 'decision') this.decide();
      else this.carryOut(this.desk.roundNotice(due.roundMs, this.view()));
    }
    this.schedule.done(due);
  }

  private isWaiting(): boolean {
    return this.parts.waitForFirstSample && this.firstReadingMs === undefined;
  }

  private runModelTo(atMs: number): void {
    this.presentMs = Math.max(this.presentMs, atMs);
    for (const event of this.running.runTo(atMs)) this.noticed(event);
  }

  private noticed(event: ModelEvent): void {
    switch (event.kind) {
      case 'watering-begun':
      case 'watering-detected':
        this.running.noticedPour(event.trayId);
        return this.carryOut(this.desk.noticed(event, this.view()));
      case 'dry-down-finished':
        this.out.push({ kind: 'dry-down', dryDown: event.dryDown });
        return;
      case 'probe-drift': {
        const { probeId, atMs, driftM3PerM3 } = event;
        this.out.push({ kind: 'probe-drift', probeId, atMs, driftM3PerM3 });
        return;
      }
    }
  }

  private decide(): void {
    this.carryOut(this.desk.decide(this.view()));
    this.tellNewForecasts();
  }

  /** What somebody said or a probe read has moved a forecast: people hear it now, not at the next full hour. Replay writes hours only. */
  private tellNewForecasts(): void {
    if (this.parts.waitForFirstSample) return;
    this.runModelTo(this.presentMs);
    this.out.push(...this.running.untold(this.presentMs, this.trayIds()));
  }

  private carryOut(effects: readonly DeskEffect[]): void {
    for (const effect of effects) this.carryOutOne(effect);
  }

  private carryOutOne(effect: DeskEffect): void {
    const at = new Date(this.presentMs).toISOString();
    switch (effect.kind) {
      case 'perhaps-watered':
        return this.running.perhapsWatered(effect.trayId, effect.atMs, effect.probability);
      case 'not-watered':
        this.denied.push(effect);
        return;
      case 'ask':
        this.out.push({ ...effect, at });
        return;
      case 'watering':
        this.running.watering(effect.watering);
        this.out.push(effect);
        return;
      case 'tray-event':
        this.running.trayEvent(effect.event, this.presentMs);
        this.out.push(effect);
        return;
      case 'event-refused':
        this.out.push({ kind: 'note', at, tray: effect.event.tray, said: effect.said });
        return;
      default:
        this.out.push(effect);
    }
  }
}
