import type { Command } from './command.js';

/** Commands that count from the moment they are told. All others tell what happened, and may say `at`. */
export const AS_OF_NOW = [
  'away',
  'back',
  'acknowledge',
  'test-call',
  'test-seen',
  'shelve',
  'unshelve',
  'out-of-service',
  'in-service',
  'undo',
  'list-trays',
] as const;
export type AsOfNowName = (typeof AS_OF_NOW)[number];

const asOfNow: ReadonlySet<string> = new Set(AS_OF_NOW);

function isAsOfNow(command: Command): command is Extract<Command, { do: AsOfNowName }> {
  return asOfNow.has(command.do);
}

/** A command that was held up, with the time it was told at where it can say one and does not (RFC 3339). */
export function toldAt(command: Command, at: string): Command {
  return isAsOfNow(command) ? command : { ...command, at: command.at ?? at };
}

/** When it says that it happened, RFC 3339; undefined where it does not or can't say. */
export function saidAt(command: Command): string | undefined {
  return isAsOfNow(command) ? undefined : command.at;
}
