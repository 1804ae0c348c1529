import type { Command } from '../../../shared/wire/command.js';
import type { Said } from '../sentences/said/said.js';
import { type Refused, refused } from './outcome.js';

/** What nothing is left of that could be taken back, or what only asks. */
const leavesNothing: ReadonlySet<Command['do']> = new Set(['test-call', 'test-seen', 'list-trays', 'undo']);

/**
 * Why this command can't be taken back; undefined when it can. "Seen" stays: ANSI/ISA-18.2 and IEC 62682 know no transition
 * by which a person leads an acknowledged alarm back to unacknowledged. Shelving is their way to be called again, at its end.
 */
export function undoRefusal(ref: string, command: Command): Refused | undefined {
  if (command.do === 'acknowledge') return refused('seen-stays', ['seenStays']);
  return leavesNothing.has(command.do) ? nothingToUndo(ref) : undefined;
}

/** Refused: nothing is known of such a command, or nothing has come of it. */
export function nothingToUndo(ref: string): Refused {
  return refused('nothing-to-undo', ['nothingToUndo', ref]);
}

/** Refused: this one was told later and could not have been without. */
export function restsOnIt(later: Command): Refused {
  const { do: command } = later;
  const tray = 'tray' in later ? later.tray : undefined;
  const alarm = 'of' in later && later.of !== undefined ? { kind: later.kind, of: later.of } : undefined;
  return refused('later-events', ['restsOnIt', { command, tray, alarm }]);
}

/** What has come of taking back a command; the desk stands as if it had never been told. */
export function undoneSaid(
  command: Command,
  trays: readonly string[],
  { awayUntilMs, nowMs }: { readonly awayUntilMs?: number | undefined; readonly nowMs: number },
): Said {
  switch (command.do) {
    case 'shelve':
    case 'out-of-service':
      return ['undoneAlarm', command.kind, command.of];
    case 'away':
    case 'back':
      return ['undoneAbsence', awayUntilMs, nowMs];
    default:
      return ['undone', command.do, trays];
  }
}
