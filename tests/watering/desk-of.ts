import { toInstant } from '../../shared/base/ids.js';
import type { TrayEvent } from '../../shared/facts/tray-life.js';
import type { Answer, Command } from '../../shared/wire/command.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import { spokenFact } from '../../src/monitor/ports/spoken-fact.js';
import { createWateringDesk } from '../../src/watering/create-watering-desk.js';
import type { DeskEffect, WateringDesk } from '../../src/watering/desk/watering-desk.js';
import type { DeskSentences } from '../../src/watering/sentences/said/desk-sentences.js';
import { createSpeech } from '../../src/watering/sentences/speech.js';
import { spokenAlarm, spokenAnswer, spokenNotice } from '../../src/watering/sentences/spoken.js';
import { farm, MIDNIGHT, view } from './helpers.js';

/** A tray as it is put on the bench in these tests. */
export interface Put {
  readonly id: string;
  readonly bench?: string;
  readonly blockSideMm?: number;
  readonly more?: Partial<Extract<TrayEvent, { event: 'new' }>>;
}

export const minis = (...ids: readonly string[]): readonly Put[] => ids.map((id) => ({ id }));

/** A desk whose answers are in words. */
export interface HeardDesk extends Omit<WateringDesk, 'command'> {
  readonly say: DeskSentences;
  command(...told: Parameters<WateringDesk['command']>): {
    readonly answer: Answer;
    readonly effects: readonly DeskEffect[];
  };
}

/** The desk as people hear it: what it says is in words. */
export function heard(desk: WateringDesk, options: Parameters<typeof createSpeech>[0] = farm()): HeardDesk {
  const { say } = createSpeech(options);
  const words = (effects: readonly DeskEffect[]) =>
    effects.map((effect) => spokenFact(effect as Fact, say) as DeskEffect);
  return {
    ...desk,
    say,
    command(command, ref, now) {
      const { answer, effects } = desk.command(command, ref, now);
      return { answer: spokenAnswer(answer, say), effects: words(effects) };
    },
    trayEvent: (event, now) => words(desk.trayEvent(event, now)),
    noticed: (event, now) => words(desk.noticed(event, now)),
    decide: (now) => words(desk.decide(now)),
    roundNotice: (roundMs, now) => words(desk.roundNotice(roundMs, now)),
    retellAlarms: (before, nowMs, by) => words(desk.retellAlarms(before, nowMs, by)),
    callAbout: (subjects, now) => words(desk.callAbout(subjects, now)),
    standing() {
      const { alarms, notice, ...rest } = desk.standing();
      return {
        ...rest,
        alarms: alarms.map((alarm) => spokenAlarm(alarm, say)),
        notice: notice && spokenNotice(notice, say),
      };
    },
  };
}

/** A desk with these trays since midnight, as people hear it. */
export function deskOf(trays: readonly Put[], overrides: Record<string, unknown> = {}): HeardDesk {
  const options = farm(overrides);
  const desk = heard(createWateringDesk(options), options);
  for (const { id, bench = 'south', blockSideMm = 19, more } of trays)
    desk.trayEvent(
      {
        event: 'new',
        at: toInstant(MIDNIGHT),
        tray: id,
        bench,
        blockSideMm,
        blockCount: blockSideMm < 30 ? 280 : blockSideMm < 45 ? 72 : 48,
        crop: 'celery',
        ...more,
      },
      view(MIDNIGHT),
    );
  return desk;
}

let refs = 0;

/** Tells the desk something at this moment. */
export function tell(desk: HeardDesk, command: Command, now: ReturnType<typeof view>) {
  refs += 1;
  return desk.command(command, command.ref ?? `c${refs}`, now);
}
