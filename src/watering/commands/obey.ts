import { toInstant } from '../../../shared/base/ids.js';
import { MS_PER_DAY } from '../../../shared/base/time-units.js';
import type { Command } from '../../../shared/wire/command.js';
import { type Desk, standingTray } from '../desk/desk.js';
import type { DeskEffect, DeskView } from '../desk/watering-desk.js';
import type { Said } from '../sentences/said/said.js';
import type { ToldAnswer } from '../sentences/said/told.js';
import { noSuchTray } from '../trays/no-such.js';
import { awayCommand, backCommand } from './absence-commands.js';
import { acknowledgeCommand, releaseCommand, setAsideCommand } from './alarm-commands.js';
import { listTraysCommand } from './list-trays.js';
import { type CommandOutcome, done, refused } from './outcome.js';
import { testCallCommand, testSeenCommand } from './test-call-commands.js';
import { toldAtMs } from './told-time.js';
import { trayCommand } from './tray-commands.js';
import { nothingToUndo } from './undo-words.js';
import { roundDoneCommand, wateredCommand } from './watering-commands.js';

/** How long a ref is known, so that a command told twice is carried out once. */
const KNOWN_MS = MS_PER_DAY;

function noteCommand(desk: Desk, command: Extract<Command, { do: 'note' }>, atMs: number): CommandOutcome {
  const { tray, by, text, photo } = command;
  if (tray !== undefined && standingTray(desk, tray) === undefined)
    return refused('unknown-tray', noSuchTray(desk, tray, 'leave-out'));
  return done(
    ['noted'],
    [
      {
        kind: 'note',
        at: toInstant(atMs),
        ...(tray === undefined ? {} : { tray }),
        ...(by === undefined ? {} : { by }),
        text,
        ...(photo === undefined ? {} : { photo }),
      },
    ],
  );
}

function carryOut(desk: Desk, command: Command, ref: string, atMs: number, view: DeskView): CommandOutcome {
  const { nowMs } = view;
  switch (command.do) {
    case 'watered':
      return wateredCommand(desk, command, atMs, nowMs);
    case 'round-done':
      return roundDoneCommand(desk, command, atMs, nowMs);
    case 'away':
      return awayCommand(desk, command, view);
    case 'back':
      return backCommand(desk, command, nowMs);
    case 'acknowledge':
      return acknowledgeCommand(desk, command, nowMs);
    case 'shelve':
    case 'out-of-service':
      return setAsideCommand(desk, command, view);
    case 'unshelve':
    case 'in-service':
      return releaseCommand(desk, command, nowMs);
    case 'note':
      return noteCommand(desk, command, atMs);
    case 'test-call':
      return testCallCommand(desk, command, ref, nowMs);
    case 'test-seen':
      return testSeenCommand(desk, command, nowMs);
    case 'list-trays':
      return listTraysCommand(desk, view);
    case 'undo':
      // Whoever remembers the day takes back; a desk alone remembers nothing.
      return nothingToUndo(command.undo);
    default:
      return trayCommand(desk, command, atMs, nowMs);
  }
}

function rememberRef(desk: Desk, ref: string, nowMs: number): void {
  const limitMs = nowMs - KNOWN_MS;
  desk.state.told = [...desk.state.told.filter((told) => told.atMs >= limitMs), { ref, atMs: nowMs }];
}

/** Carries out one command, or refuses it and changes nothing. The same ref twice within a day is answered, not done again. */
export function obey(
  desk: Desk,
  command: Command,
  ref: string,
  view: DeskView,
): { readonly answer: ToldAnswer; readonly effects: readonly DeskEffect[] } {
  const { nowMs } = view;
  const answer = (ok: boolean, code: string, said: Said): ToldAnswer => ({
    ref,
    at: toInstant(nowMs),
    ok,
    code,
    said,
  });
  if (desk.state.told.some((told) => told.ref === ref))
    return {
      answer: answer(true, 'told-already', ['toldAlready', ref]),
      effects: [],
    };
  const atMs = toldAtMs(command, nowMs);
  const outcome = typeof atMs === 'number' ? carryOut(desk, command, ref, atMs, view) : atMs;
  if (!outcome.ok) return { answer: answer(false, outcome.code, outcome.said), effects: [] };
  const { trays } = outcome;
  if (command.do !== 'list-trays') rememberRef(desk, ref, nowMs);
  const told = answer(true, outcome.code, outcome.said);
  return { answer: trays === undefined ? told : { ...told, trays }, effects: outcome.effects };
}
