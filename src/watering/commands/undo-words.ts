import type { Command } from '../../../shared/wire/command.js';
import type { Desk } from '../desk/desk.js';
import { type Refused, refused } from './outcome.js';

/** What nothing is left of that could be taken back, or what only asks. */
const leavesNothing: ReadonlySet<Command['do']> = new Set([
  'note',
  'test-call',
  'test-seen',
  'list-trays',
  'undo',
]);

/**
 * Why the command of this ref can't be taken back; undefined when it can. "Seen" stays: ANSI/ISA-18.2 and IEC 62682 know no transition
 * by which a person leads an acknowledged alarm back to unacknowledged. Shelving is their way to be called again, at its end.
 * @param command undefined when no such command of the last day is known
 */
export function undoRefusal(ref: string, command: Command | undefined): Refused | undefined {
  if (command?.do === 'acknowledge')
    return refused(
      'seen-stays',
      'What was seen stays seen: the standard for alarms (IEC 62682) knows no way back. To be called again put it off ("later"): when that time is over it calls, if it still holds.',
    );
  return command === undefined || leavesNothing.has(command.do) ? nothingToUndo(ref) : undefined;
}

/** Refused: nothing is known of such a command, or nothing has come of it. */
export function nothingToUndo(ref: string): Refused {
  return refused(
    'nothing-to-undo',
    `There is no command "${ref}" of the last 24 hours that can be taken back. Tell what is true now instead.`,
  );
}

/** What a command was about, as it is named to people. */
function aboutOf(command: Command): string {
  if ('tray' in command && command.tray !== undefined) return ` of tray ${command.tray}`;
  return 'of' in command && command.of !== undefined ? ` (${command.kind ?? 'call'} ${command.of})` : '';
}

/** Refused: this one was told later and could not have been without. */
export function restsOnIt(later: Command): Refused {
  return refused(
    'later-events',
    `"${later.do}"${aboutOf(later)} came after it and rests on it. Undo that first.`,
  );
}

/** What has come of taking back a command; the desk stands as if it had never been told. */
export function undoneSentence(
  desk: Desk,
  command: Command,
  trays: readonly string[],
  nowMs: number,
): string {
  switch (command.do) {
    case 'shelve':
    case 'out-of-service':
      return `Undone: ${command.kind} ${command.of} is watched again.`;
    case 'away':
    case 'back': {
      const { awayUntilMs } = desk.state;
      return awayUntilMs === undefined
        ? 'Undone: you are not away. Rounds happen.'
        : `Undone: away until ${desk.words.time(awayUntilMs, nowMs)}.`;
    }
    default:
      return `Undone: ${command.do}${trays.length === 0 ? '' : ` (${trays.join(', ')})`}.`;
  }
}
