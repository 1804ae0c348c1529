import type { Command } from '../../../shared/command.js';
import type { TrayEvent } from '../../../shared/tray-life.js';
import { type Desk, MS_PER_HOUR } from '../desk.js';
import { memoryOf, type ToldCommand } from '../desk-state.js';
import { untellPour } from '../trays/pour-ledger.js';
import { recordEvent, strikeOut, type TrayHistory } from '../trays/tray-history.js';
import type { DeskEffect } from '../watering-desk.js';
import { type CommandOutcome, done, refused } from './outcome.js';
import { takeBack } from './take-back.js';

/** How long a command can be taken back, hours. */
const UNDO_H = 24;

/** Remembers a command that can be undone; older ones are forgotten. */
export function rememberCommand(desk: Desk, told: ToldCommand, nowMs: number): void {
  const limitMs = nowMs - UNDO_H * MS_PER_HOUR;
  desk.state.told = [...desk.state.told.filter(({ atMs }) => atMs >= limitMs), told];
}

/** Everything that was told later and would have no ground without these events: a tray's life after its `new`, for one. */
function leftHanging(history: TrayHistory, struck: readonly TrayEvent[]): readonly TrayEvent[] {
  let trial: TrayHistory = { ...history, events: [], now: history.base };
  const hanging: TrayEvent[] = [];
  for (const event of strikeOut(history, struck).events) {
    const outcome = recordEvent(trial, event);
    if ('refused' in outcome) hanging.push(event);
    else trial = outcome;
  }
  return hanging;
}

/** Takes back a command of the last day: its events are struck out and the rest is played again. */
export function undoCommand(
  desk: Desk,
  command: Extract<Command, { do: 'undo' }>,
  nowMs: number,
): CommandOutcome {
  const told = desk.state.told.find(({ ref }) => ref === command.undo);
  if (told === undefined || told.atMs < nowMs - UNDO_H * MS_PER_HOUR)
    return refused(
      'nothing-to-undo',
      `There is no command "${command.undo}" of the last ${UNDO_H} hours that can be taken back. Tell what is true now instead.`,
    );
  if (told.takeBack !== undefined) {
    const outcome = takeBack(desk, told.takeBack, nowMs, command.by);
    if (outcome.ok) desk.state.told = desk.state.told.filter((other) => other !== told);
    return outcome;
  }
  const hanging = leftHanging(desk.state.history, told.events);
  const first = hanging[0];
  if (first !== undefined)
    return refused(
      'later-events',
      `"${first.event}" of tray ${first.tray} came after it and rests on it. Undo that first.`,
    );
  desk.state.history = strikeOut(desk.state.history, told.events);
  desk.state.told = desk.state.told.filter((other) => other !== told);
  for (const event of told.events) {
    const memory = memoryOf(desk.state, event.tray);
    if (event.event === 'watered') memory.pours = untellPour(memory.pours, Date.parse(event.at), event.by);
    if (event.event === 'ready-for-water') memory.readyAtMs = undefined;
  }
  const doubted = (told.leftOut ?? []).flatMap(({ trayId, leftOutAtMs, perhaps }): DeskEffect[] => {
    const memory = memoryOf(desk.state, trayId);
    memory.leftOutAtMs = leftOutAtMs;
    if (perhaps === undefined || memory.perhaps !== undefined) return [];
    memory.perhaps = perhaps;
    const { atMs, probability } = perhaps;
    return [{ kind: 'perhaps-watered', trayId, atMs, probability }];
  });
  const trays = [...new Set(told.events.map((event) => event.tray))];
  return done(`Undone: ${told.name}${trays.length === 0 ? '' : ` (${trays.join(', ')})`}.`, [
    ...told.events.map((event): DeskEffect => ({ kind: 'tray-event-undone', event })),
    ...doubted,
  ]);
}
