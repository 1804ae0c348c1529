import type { Answer, Command } from '../../shared/command.js';
import type { ProbeConfig } from '../../shared/config/probes.js';
import { toInstant } from '../../shared/ids.js';
import type { Flag } from '../../shared/reading.js';
import { shiftedInstants } from '../../shared/shifted-instants.js';
import type { TrayEvent } from '../../shared/tray-life.js';
import type { ModelEvent } from '../drying/farm-model.js';
import type { ProbeJudge } from '../sensing/probe-judge.js';
import type { RoundCalendar } from '../watering/round-calendar.js';
import type { DeskEffect, DeskView, WatchmanHealth, WateringDesk } from '../watering/watering-desk.js';
import { Climate } from './climate.js';
import type { ClockStep } from './clock-watch.js';
import { ExpectedDrying } from './expected-drying.js';
import type { Fact } from './facts.js';
import { ForecastBook, forecastFact, type TrayLevels } from './forecast-book.js';
import type { ModelKeeper } from './model-keeper.js';
import type { ProbeSample } from './ports.js';
import { rawUnitOf } from './raw-unit.js';
import { Schedule } from './schedule.js';
import { ownHealth } from './watchman.js';

/** Rounds whose chance is published with each forecast. */
const COMING_ROUNDS = 3;
/** What fell due in a shorter time that nobody saw is made up for, ms (judgement: three decisions). */
export const CATCH_UP_MS = 30 * 60_000;

export interface PipelineParts {
  readonly probes: readonly ProbeConfig[];
  readonly model: ModelKeeper;
  readonly desk: WateringDesk;
  readonly rounds: RoundCalendar;
  /** End of the quiet hours that hold at an instant; undefined when none do. */
  readonly quietUntil: (atMs: number) => number | undefined;
  readonly judgeOf: (probe: ProbeConfig) => ProbeJudge;
  readonly noticeLeadMin: number;
  /** True where forecasts and decisions begin with the first reading (replay), not with the start. */
  readonly waitForFirstSample: boolean;
  /** False where nobody keeps readings (replay): saves the fact. */
  readonly readingFacts: boolean;
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
  private climate = new Climate();
  private expected = new ExpectedDrying();
  private readonly book: ForecastBook;
  private schedule: Schedule;
  private outside: readonly WatchmanHealth[] = [];
  private out: Fact[] = [];
  private firstSampleMs: number | undefined;
  private modelMs = Number.NEGATIVE_INFINITY;

  constructor(
    private readonly parts: PipelineParts,
    private nowMs: number,
  ) {
    this.watched = this.freshJudges();
    this.book = new ForecastBook(parts.model);
    this.schedule = this.scheduleFrom(nowMs);
  }

  private freshJudges(): ReadonlyMap<string, WatchedProbe> {
    const { probes, judgeOf } = this.parts;
    return new Map(probes.map((probe) => [probe.id, { probe, judge: judgeOf(probe) }]));
  }

  private scheduleFrom(startMs: number): Schedule {
    const { desk, rounds, noticeLeadMin } = this.parts;
    const noticed = desk.standing().notice?.round;
    const noticedMs = noticed === undefined ? undefined : Date.parse(noticed);
    return new Schedule(startMs, rounds, noticeLeadMin, noticedMs);
  }

  /**
   * The clock was set, or time went by unseen, and it is `nowMs` now: what is remembered is dated anew, and what would have fallen due in
   * time that is over is not done any more. Probes are judged as after a start, since what they read before is dated otherwise.
   */
  clockStepped(step: ClockStep, nowMs: number): void {
    const { model, desk } = this.parts;
    const { shiftMs, skippedMs } = step;
    if (shiftMs !== 0) {
      model.shiftTime(shiftMs);
      desk.restore(shiftedInstants(desk.snapshot(), shiftMs));
      this.nowMs += shiftMs;
      this.modelMs += shiftMs;
      this.watched = this.freshJudges();
      this.climate = new Climate();
      this.expected = new ExpectedDrying();
      this.book.forgetAll();
    }
    if (shiftMs !== 0 || skippedMs > CATCH_UP_MS) {
      this.nowMs = Math.max(this.nowMs, nowMs);
      this.schedule = this.scheduleFrom(this.nowMs);
    }
  }

  /** Facts since the last call, in order. */
  takeFacts(): Fact[] {
    const facts = this.out;
    this.out = [];
    return facts;
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
    this.firstSampleMs ??= observedAtMs;
    const expected = this.expected.sinceLast(probeId, observedAtMs, this.parts.desk);
    const { reasons, ...judged } = judge.judge(observedAtMs, rawValue, expected);
    this.parts.model.observe(probeId, observedAtMs, rawValue, judged.flag);
    this.noteBelieved(probe, observedAtMs, rawValue, judged.flag);
    if (!this.parts.readingFacts) return;
    const flagReasons = reason === undefined ? reasons : [...reasons, reason];
    const reading = { probeId, observedAtMs, rawValue, rawUnit: rawUnitOf(probe), ...judged, flagReasons };
    this.out.push({ kind: 'reading', reading });
  }

  /** What the grower's log or the configuration says happened to a tray at `atMs`. */
  trayEvent(event: TrayEvent, atMs: number): void {
    this.runModelTo(atMs);
    this.carryOut(this.parts.desk.trayEvent(event, this.view()), atMs);
  }

  /** What people told. The answer is also a fact. */
  command(command: Command, ref: string): Answer {
    const { answer, effects } = this.parts.desk.command(command, ref, this.view());
    this.carryOut(effects, this.nowMs);
    this.out.push({ kind: 'answer', answer });
    if (answer.ok) this.carryOut(this.parts.desk.decide(this.view()), this.nowMs);
    return answer;
  }

  /** Something about the house itself that is to stand in the journal. */
  note(text: string): void {
    this.out.push({ kind: 'note', at: toInstant(this.nowMs), by: 'monitor', text });
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
    const due = this.schedule.next();
    if (due.atMs > toMs) {
      this.nowMs = Math.max(this.nowMs, toMs);
      return false;
    }
    this.runModelTo(due.atMs);
    if (due.what === 'forecasts') this.tellForecasts();
    else if (due.what === 'decision') this.decide();
    else this.tellRound(due.roundMs);
    this.schedule.done(due);
    return true;
  }

  /** True when people are to be called by what `takeFacts` will give: better hand it on at once. */
  get hasCall(): boolean {
    return this.out.some(({ kind }) => kind === 'call');
  }

  /** True while any call waits for somebody to have seen it. */
  get callStands(): boolean {
    return this.parts.desk.standing().alarms.some(({ state }) => state === 'unacknowledged');
  }

  /** Latest forecasts, hours counting from now. */
  view(): DeskView {
    const { desk, rounds, quietUntil } = this.parts;
    this.runModelTo(this.nowMs);
    const trayIds = desk.trays().map((tray) => tray.id);
    return {
      nowMs: this.nowMs,
      rounds,
      quietUntilMs: quietUntil(this.nowMs),
      forecasts: this.book.at(this.nowMs, trayIds),
      temperatureC: this.climate.temperaturesC(this.nowMs),
      health: this.health(),
    };
  }

  /** What the model takes for full and for ready, by tray, from the latest forecasts. */
  levels(): ReadonlyMap<string, TrayLevels> {
    return this.book.levels();
  }

  /** Health of every probe, of the monitor's own sight, and of the parts outside. */
  health(): readonly WatchmanHealth[] {
    const judged = [...this.watched.values()].map(({ probe, judge }) => ({
      id: probe.id,
      ...judge.health(this.nowMs),
    }));
    return [...ownHealth(judged), ...this.outside];
  }

  private noteBelieved(probe: ProbeConfig, atMs: number, rawValue: number | undefined, flag: Flag): void {
    if (flag > 2 || rawValue === undefined) return;
    if (probe.kind === 'air-temperature') this.climate.note(probe.bench, atMs, rawValue);
  }

  private runModelTo(atMs: number): void {
    this.nowMs = Math.max(this.nowMs, atMs);
    if (atMs <= this.modelMs) return;
    this.modelMs = atMs;
    for (const event of this.parts.model.advanceTo(atMs)) this.noticed(event);
  }

  private noticed(event: ModelEvent): void {
    switch (event.kind) {
      case 'watering-begun':
      case 'watering-detected':
        this.book.forget(event.trayId);
        this.carryOut(this.parts.desk.noticed(event, this.view()), this.nowMs);
        break;
      case 'dry-down-finished':
        this.out.push({ kind: 'dry-down', dryDown: event.dryDown });
        break;
      case 'probe-drift':
        this.out.push({
          kind: 'probe-drift',
          probeId: event.probeId,
          atMs: event.atMs,
          driftM3PerM3: event.driftM3PerM3,
        });
        break;
    }
  }

  private isWaiting(): boolean {
    return this.parts.waitForFirstSample && this.firstSampleMs === undefined;
  }

  private tellForecasts(): void {
    if (this.isWaiting()) return;
    const rounds = this.parts.rounds.after(this.nowMs, COMING_ROUNDS);
    const trayIds = this.parts.desk.trays().map((tray) => tray.id);
    for (const forecast of this.book.renew(this.nowMs, trayIds))
      this.out.push({ kind: 'forecast', forecast: forecastFact(forecast, rounds) });
  }

  private decide(): void {
    if (this.isWaiting()) return;
    this.carryOut(this.parts.desk.decide(this.view()), this.nowMs);
  }

  private tellRound(roundMs: number): void {
    if (this.isWaiting()) return;
    this.carryOut(this.parts.desk.roundNotice(roundMs, this.view()), this.nowMs);
  }

  private carryOut(effects: readonly DeskEffect[], atMs: number): void {
    for (const effect of effects) this.carryOutOne(effect, atMs);
  }

  private carryOutOne(effect: DeskEffect, atMs: number): void {
    const { model } = this.parts;
    switch (effect.kind) {
      case 'perhaps-watered':
        model.perhapsWatered(effect.trayId, effect.atMs, effect.probability);
        return this.book.forget(effect.trayId);
      case 'not-watered':
        model.notWatered(effect.trayId, effect.atMs);
        return this.book.forgetAll();
      case 'ask':
        this.out.push({
          kind: 'ask',
          at: new Date(atMs).toISOString(),
          trays: effect.trayIds,
          sentence: effect.sentence,
        });
        return;
      case 'watering':
        if (effect.watering.source === 'logged' && effect.watering.amends !== true) {
          model.watering(effect.watering.tray, Date.parse(effect.watering.at), effect.watering.ml);
          this.book.forget(effect.watering.tray);
        }
        this.out.push(effect);
        return;
      case 'tray-event':
        model.trayEvent(effect.event, Date.parse(effect.event.at));
        this.book.forget(effect.event.tray);
        if (effect.event.event === 'potted-on') this.book.forget(effect.event.toTray);
        this.out.push(effect);
        return;
      case 'event-refused':
        this.out.push({
          kind: 'note',
          at: new Date(atMs).toISOString(),
          tray: effect.event.tray,
          text: effect.sentence,
        });
        return;
      case 'tray-event-undone':
        model.strikeOut(effect.event);
        this.book.forgetAll();
        this.out.push(effect);
        return;
      default:
        this.out.push(effect);
    }
  }
}
