import { CommanderError, InvalidArgumentError } from 'commander';
import { fileTrouble, isFileTrouble } from '../../host/disk/file-trouble.js';

/** What a command ends with; the same for all of them, and in the help and the manual. */
export const EXIT = {
  done: 0,
  /** It looked, and what it looked at is not well. */
  notWell: 1,
  /** What was typed, the configuration or a file that was named can't be used. */
  usedWrongly: 2,
  /** What was asked is in order, but could not be done: nobody there, refused, no room, no right. */
  couldNot: 3,
} as const;

/** Codes of errors that lie with what was given; every other code means that it could not be done. */
const STATUS_OF_CODE: Readonly<Record<string, number>> = {
  'bad-word': EXIT.usedWrongly,
  'config-unusable': EXIT.usedWrongly,
  'bad-option': EXIT.usedWrongly,
  'date-order-open': EXIT.usedWrongly,
  'file-exists': EXIT.usedWrongly,
  'logger-file-unusable': EXIT.usedWrongly,
  'no-backup': EXIT.usedWrongly,
  'no-series': EXIT.usedWrongly,
  'no-table': EXIT.usedWrongly,
  'no-time': EXIT.usedWrongly,
  'recording-unusable': EXIT.usedWrongly,
  'nothing-to-replay': EXIT.notWell,
};

/** A failure that was foreseen: it has a code, and a message for people. */
function isForeseen(error: unknown): error is Error & { readonly code: string } {
  return error instanceof Error && 'code' in error && typeof error.code === 'string';
}

/**
 * Says in one message what went wrong, and returns the exit status. Commander has printed its own complaints already.
 * Throws what nobody foresaw: our own mistake, which shows its stack.
 */
export function tellFailure(error: unknown): number {
  if (error instanceof CommanderError && !(error instanceof InvalidArgumentError))
    return error.exitCode === 0 ? EXIT.done : EXIT.usedWrongly;
  if (!isForeseen(error)) throw error;
  const { message } = error;
  console.error(
    isFileTrouble(error) ? `${'path' in error ? error.path : 'A file'}: ${fileTrouble(error)}.` : message,
  );
  return error instanceof InvalidArgumentError
    ? EXIT.usedWrongly
    : (STATUS_OF_CODE[error.code] ?? EXIT.couldNot);
}
