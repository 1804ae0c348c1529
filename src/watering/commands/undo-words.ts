import type { Command } from '../../../shared/wire/command.js';
import type { Desk } from '../desk/desk.js';
import type { AnswerSentences } from '../sentences/said/answer-sentences.js';
import { type Refused, refused } from './outcome.js';

/** What nothing is left of that could be taken back, or what only asks. */
const leavesNothing: ReadonlySet<Command['do']> = new Set(['test-call', 'test-seen', 'list-trays', 'undo']);

/**
 * Why this command can't be taken back; undefined when it can. "Seen" stays: ANSI/ISA-18.2 and IEC 62682 know no transition
 * by which a person leads an acknowledged alarm back to unacknowledged. Shelving is their way to be called again, at its end.
 */
export function undoRefusal(answers: AnswerSentences, ref: string, command: Command): Refused | undefined {
  if (command.do === 'acknowledge') return refused('seen-stays', answers.seenStays);
  return leavesNothing.has(command.do) ? nothingToUndo(answers, ref) : undefined;
}

/** Refused: nothing is known of such a command, or nothing has come of it. */
export function nothingToUndo(answers: AnswerSentences, ref: string): Refused {
  return refused('nothing-to-undo', answers.nothingToUndo(ref));
}

/** Refused: this one was told later and could not have been without. */
export function restsOnIt(answers: AnswerSentences, later: Command): Refused {
  const { do: command } = later;
  const tray = 'tray' in later ? later.tray : undefined;
  const alarm = 'of' in later && later.of !== undefined ? { kind: later.kind, of: later.of } : undefined;
  return refused('later-events', answers.restsOnIt({ command, tray, alarm }));
}

/** What has come of taking back a command; the desk stands as if it had never been told. */
export function undoneSentence(
  desk: Desk,
  command: Command,
  trays: readonly string[],
  nowMs: number,
): string {
  const { answers } = desk.say;
  switch (command.do) {
    case 'shelve':
    case 'out-of-service':
      return answers.undoneAlarm(command.kind, command.of);
    case 'away':
    case 'back':
      return answers.undoneAbsence(desk.state.awayUntilMs, nowMs);
    default:
      return answers.undone(command.do, trays);
  }
}
