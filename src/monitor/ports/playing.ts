import { instantSchema } from '../../../shared/base/ids.js';
import type { KeptDocument } from '../../../shared/base/kept-document.js';
import { type Command, commandSchema } from '../../../shared/wire/command.js';

/**
 * What is being done and may end the process without a word, kept before it is begun and cleared with what it led to. A start that
 * finds it comes after a crash in the middle of it. JSON-able.
 */
export type Playing =
  | { readonly what: 'command'; readonly at: string; readonly ref: string; readonly command: Command }
  /** The house is being opened from its kept day, for the `count`th time without having come to its first reading. */
  | { readonly what: 'start'; readonly at: string; readonly count: number };

/** Name of the state document that holds it. */
export const PLAYING = 'playing';

export const playingDocument: KeptDocument<Playing> = {
  name: 'What was being done last',
  version: 1,
  steps: {},
  read: ({ what, at, ref, command, count }) => {
    const when = instantSchema.safeParse(at);
    if (!when.success) return undefined;
    if (what === 'start' && Number.isSafeInteger(count)) return { what, at: when.data, count: Number(count) };
    const told = commandSchema.safeParse(command);
    return what === 'command' && typeof ref === 'string' && told.success
      ? { what, at: when.data, ref, command: told.data }
      : undefined;
  },
};

/** It as it is kept; null: nothing is being done. */
export function playingState(playing: Playing | undefined): unknown {
  return playing === undefined ? null : { version: playingDocument.version, ...playing };
}
