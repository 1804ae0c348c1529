import type { z } from 'zod';
import { idSchema } from '../../../shared/base/ids.js';
import { plainIssue } from '../../../shared/base/plain-issue.js';
import { type Command, commandSchema } from '../../../shared/wire/command.js';

/** Longest command text, bytes; the longest note fits four times. */
export const MAX_COMMAND_BYTES = 16_384;

export type ReadCommand =
  | { readonly ok: true; readonly command: Command }
  | { readonly ok: false; readonly code: string; readonly sentence: string };

const MAX_PROBLEMS = 5;
const EXAMPLE = '{"do":"watered","tray":"t1"}';

function commandNames(): string {
  return commandSchema.options.map((option) => option.shape.do.value).join(', ');
}

type NameOf = (field: string) => string;
const inQuotes: NameOf = (field) => `"${field}"`;

/** True where nothing was given for what this issue is about. */
function isMissing({ path }: z.core.$ZodIssue, input: unknown): boolean {
  const given = path.reduce<unknown>((value, key) => Object(value)[key], input);
  return path.length > 0 && given === undefined;
}

function problemText(issue: z.core.$ZodIssue, input: unknown, nameOf: NameOf): string {
  const where = issue.path.join('.');
  if (issue.code === 'invalid_union' && where === 'do') {
    const given = (input as { do?: unknown }).do;
    return given === undefined
      ? `"do" is missing; expected one of ${commandNames()}`
      : `"do": there is no command ${JSON.stringify(given).slice(0, 60)}; expected one of ${commandNames()}`;
  }
  if (where === '') return plainIssue(issue);
  const [field, ...deeper] = issue.path.map(String);
  const name = [nameOf(field ?? ''), ...deeper].join('.');
  if (isMissing(issue, input)) return `${name} is missing`;
  return `${name}: ${plainIssue(issue)}`;
}

/**
 * A command from the text of a message, or why not: where, what was expected, what to do.
 * @param ref from the topic; a ref in the text must be the same
 * @param nameOf what its sender calls a field of the command; the key in quotes when absent
 */
export function readCommand(text: string, ref: string | undefined, nameOf = inQuotes): ReadCommand {
  let input: unknown;
  try {
    input = JSON.parse(text);
  } catch (cause) {
    if (!(cause instanceof SyntaxError)) throw cause;
    return {
      ok: false,
      code: 'not-json',
      sentence: `This is not JSON: a bracket, comma or quote is wrong. Send for example ${EXAMPLE}`,
    };
  }
  if (typeof input !== 'object' || input === null || Array.isArray(input))
    return { ok: false, code: 'not-an-object', sentence: `Expected one JSON object, for example ${EXAMPLE}` };
  const result = commandSchema.safeParse(input);
  if (!result.success) {
    const all = result.error.issues.map((issue) => problemText(issue, input, nameOf));
    const shown = all.slice(0, MAX_PROBLEMS).join('; ');
    const more = all.length > MAX_PROBLEMS ? `; and ${all.length - MAX_PROBLEMS} more` : '';
    return { ok: false, code: 'bad-command', sentence: `Nothing was changed: ${shown}${more}.` };
  }
  const command = result.data;
  if (ref !== undefined && command.ref !== undefined && command.ref !== ref)
    return {
      ok: false,
      code: 'two-refs',
      sentence: `The topic says ref "${ref}", the command "${command.ref}": leave it out of one of them.`,
    };
  return { ok: true, command };
}

/** True when this may be a ref: it becomes a topic level and a name that `undo` uses. */
export function isRef(text: string): boolean {
  return idSchema.safeParse(text).success;
}
