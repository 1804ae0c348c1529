import { toInstant } from '../../shared/base/ids.js';
import type { Answer, Command } from '../../shared/wire/command.js';
import type { FarmModel } from '../../src/drying/model/farm-model.js';
import type { TrayForecast } from '../../src/drying/model/tray-forecast.js';
import type { CoreParts } from '../../src/monitor/day/core/core-parts.js';
import { FarmCore } from '../../src/monitor/day/core/farm-core.js';
import { Day, NotCarriedOut } from '../../src/monitor/day/day.js';
import { tellDay } from '../../src/monitor/day/tell.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import { createWateringDesk } from '../../src/watering/create-watering-desk.js';
import { spokenAnswer } from '../../src/watering/sentences/spoken.js';
import { english } from '../helpers/in-words.js';
import { dailyRounds, farm, MIDNIGHT } from '../watering/helpers.js';

/** What a tray is said to be at an instant, and what was told of it so far (`calls`). */
export type Dictate = (trayId: string, nowMs: number, calls: readonly string[]) => TrayForecast;

/** A model that believes what it is told to, and remembers what it was asked. */
function dictated(dictate: Dictate, breaks: (call: string) => boolean, snapshot: unknown): FarmModel {
  const { calls: kept = [], nowMs = 0 } = (snapshot ?? {}) as { calls?: string[]; nowMs?: number };
  const calls = [...kept];
  let presentMs = nowMs;
  const note =
    (name: string) =>
    (trayId: string): void => {
      calls.push(`${name} ${trayId}`);
      if (breaks(`${name} ${trayId}`)) throw new RangeError(`the model can't have ${name} ${trayId}`);
    };
  return {
    trayIds: () => [],
    addTray: ({ id }) => note('add')(id),
    endTray: note('end'),
    moveTray: note('move'),
    setCover: note('cover'),
    setSown: note('sown'),
    setGerminated: note('germinated'),
    attachProbe: note('attach'),
    observe: () => undefined,
    recordWatering: note('watered'),
    recordPerhapsWatered: note('perhaps'),
    recordLook: note('looked'),
    recordWeight: note('weighed'),
    recordReady: note('ready'),
    advanceTo: (atMs) => {
      presentMs = Math.max(presentMs, atMs);
      return [];
    },
    forecast: (trayId) => dictate(trayId, presentMs, calls),
    forecastIf: (trayId) => dictate(trayId, presentMs, calls),
    followLessons: () => undefined,
    meanWater: () => 0.5,
    contradictedH: () => 0,
    explain: (trayId) => ({ trayId, atMs: presentMs, lines: [] }),
    snapshot: () => ({ calls: [...calls], nowMs: presentMs }),
  };
}

/** A farm's day whose forecasts are dictated: minis t1, t2 and t3 on bench south since midnight, rounds at 7 and 18. */
export class DictatedFarm {
  readonly day: Day;
  readonly facts: Fact[] = [];
  readonly parts: CoreParts;

  constructor(dictate: Dictate, breaks: (call: string) => boolean = () => false, startMs = MIDNIGHT) {
    const { notices } = farm();
    this.parts = {
      airBenches: new Map(),
      createDesk: (snapshot) => createWateringDesk(farm(), snapshot),
      createModel: (snapshot) => dictated(dictate, breaks, snapshot),
      rounds: dailyRounds(),
      quietUntil: () => undefined,
      noticeLeadMin: notices.leadMin,
      waitForFirstSample: false,
    };
    this.day = new Day(this.parts, FarmCore.startingAt(this.parts, startMs), true);
    for (const tray of ['t1', 't2', 't3'])
      this.day.take({
        kind: 'tray-event',
        atMs: startMs,
        event: {
          event: 'new',
          at: toInstant(startMs),
          tray,
          bench: 'south',
          blockSideMm: 19,
          blockCount: 280,
        },
      });
    this.take();
  }

  /** Runs on to an instant and gives what was said on the way. */
  runTo(atMs: number): readonly Fact[] {
    const { day } = this;
    for (let due = day.core.nextDue(); due.atMs <= atMs; due = day.core.nextDue()) {
      if (due.what === 'decision') day.checkpoint(due.atMs);
      day.take({ kind: 'due', atMs: due.atMs });
    }
    day.take({ kind: 'clock', atMs });
    return this.take();
  }

  /** Tells something now; what was said of it. Undefined where it could not be carried out. */
  tell(
    command: Command,
    ref: string,
  ): { readonly answer: Answer | undefined; readonly facts: readonly Fact[] } {
    try {
      const answer = spokenAnswer(tellDay(this.day, this.parts, command, ref), english);
      return { answer, facts: this.take() };
    } catch (error) {
      if (!(error instanceof NotCarriedOut)) throw error;
      return { answer: undefined, facts: this.take() };
    }
  }

  undo(ref: string, by?: string): { readonly answer: Answer | undefined; readonly facts: readonly Fact[] } {
    return this.tell({ do: 'undo', undo: ref, ...(by === undefined ? {} : { by }) }, `undo-${ref}`);
  }

  /** Everything that desk and model remember. */
  states(): unknown {
    return this.day.core.state();
  }

  private take(): readonly Fact[] {
    const facts = this.day.takeFacts();
    this.facts.push(...facts);
    return facts;
  }
}

export const alarmsOf = (facts: readonly Fact[], kind: string): readonly string[] =>
  facts.flatMap((fact) =>
    fact.kind === 'alarm' && fact.transition.kind === kind ? [fact.transition.state] : [],
  );

export const callsOf = (facts: readonly Fact[]): readonly (readonly string[])[] =>
  facts.flatMap((fact) => (fact.kind === 'call' ? [fact.call.trays] : []));
