import type { Command } from '../../../shared/wire/command.js';
import type { Refused } from '../../watering/commands/outcome.js';
import { undoRefusal } from '../../watering/commands/undo-words.js';
import type { Day } from './day.js';

/** How long a command can be taken back. */
export const UNDO_WITHIN_MS = 24 * 3_600_000;

/** May a command be taken back: until when, epoch ms, or why it stays. What was told later and rests on it shows in the trying. */
export type MayUndo = { readonly command: Command; readonly untilMs: number } | { readonly stays: Refused };

/**
 * The rule for every command that the day remembers, by ref; undefined for one that it does not, or that is too old. Whoever offers an
 * undo and whoever carries it out ask this.
 */
export function undoRule(day: Day): (ref: string) => MayUndo | undefined {
  const { nowMs } = day.core;
  const told = new Map<string, { readonly command: Command; readonly atMs: number }>();
  for (const { inputs } of day.past)
    for (const input of inputs)
      if (input.kind === 'command' && !told.has(input.ref)) told.set(input.ref, input);
  return (ref) => {
    const known = told.get(ref);
    if (known === undefined || known.atMs < nowMs - UNDO_WITHIN_MS) return undefined;
    const { command, atMs } = known;
    const stays = undoRefusal(ref, command);
    return stays === undefined ? { command, untilMs: atMs + UNDO_WITHIN_MS } : { stays };
  };
}
