import type { Note } from '../../../shared/base/note.js';
import type { AlarmTransition, Call } from '../../../shared/facts/alarm.js';
import type { RoundNotice } from '../../../shared/facts/round-notice.js';
import type { Answer } from '../../../shared/wire/command.js';
import type { DeskSentences, SaidCall, SaidPart } from './said/desk-sentences.js';
import type { SaidAilment } from './said/house-sentences.js';
import type { Said } from './said/said.js';
import { saidNotice } from './said/said-notice.js';
import type { ToldAlarm, ToldAnswer, ToldAsk, ToldCall, ToldNote, ToldNotice } from './said/told.js';

/** What is said, in words. What is absent among that which it is made of may have become null in a file. */
export function sayIn([name, ...of]: Said, { answers, house }: DeskSentences): string {
  const sentences: Readonly<Record<string, unknown>> = { ...answers, ...house };
  const sentence = sentences[name];
  // one of a version to come, in a file that went back to this one
  return typeof sentence === 'function' ? sentence(...of.map((part: unknown) => part ?? undefined)) : name;
}

/** With what a part says of itself in words, where it says anything. */
function withOwn<Part extends Pick<SaidPart, 'own' | 'ownSentence'>>(part: Part, say: DeskSentences): Part {
  const { own, ...rest } = part;
  if (own === undefined) return part;
  return { ...rest, ownSentence: sayIn(own, say) } as Part;
}

function spokenIn(call: SaidCall, say: DeskSentences): SaidCall {
  const { parts, ...own } = withOwn(call, say);
  return parts === undefined ? own : { ...own, parts: parts.map((part) => withOwn(part, say)) };
}

/** A part that is not well, for a page. */
export function spokenAilment(
  { kind, source, reason, own }: Omit<SaidAilment, 'ownSentence'> & Pick<SaidPart, 'own'>,
  say: DeskSentences,
): string {
  return say.house.ailment(withOwn({ kind, source, reason, own }, say));
}

/** An answer in words; one that the disk has not taken says so. */
export function spokenAnswer({ said, sentence = '', ...told }: ToldAnswer, say: DeskSentences): Answer {
  if (said === undefined) return { ...told, sentence };
  const whole = sayIn(said, say);
  return { ...told, sentence: told.kept === false ? `${whole} ${say.house.notKeptYet()}` : whole };
}

/** A note in words. */
export function spokenNote<Told extends ToldNote>(
  { said, text = '', ...told }: Told,
  say: DeskSentences,
): Omit<Told, 'said' | 'text'> & Pick<Note, 'text'> {
  return { ...told, text: said === undefined ? text : sayIn(said, say) };
}

/** An alarm's transition in words; without a sentence where there is nothing to say. */
export function spokenAlarm({ said, ...told }: ToldAlarm, say: DeskSentences): AlarmTransition {
  if (said === undefined) return told;
  const { kind, state, tray, bench, source, reason, by, shelvedUntil } = told;
  const sentence = say.transition({
    ...withOwn(said, say),
    kind,
    state,
    of: tray ?? bench ?? source ?? '',
    reason: reason ?? '',
    by,
    untilMs: shelvedUntil === undefined ? undefined : Date.parse(shelvedUntil),
  });
  return { ...told, sentence };
}

/** A call in words. */
export function spokenCall({ said, sentence = '', ...told }: ToldCall, say: DeskSentences): Call {
  return { ...told, sentence: said === undefined ? sentence : say.call(spokenIn(said, say)) };
}

/** A round notice in words; without a sentence where none was kept. */
export function spokenNotice({ said, ...told }: ToldNotice, say: DeskSentences): RoundNotice {
  if (said === undefined) return told;
  const { nowMs, isWithoutTrays = false } = said;
  return { ...told, sentence: say.roundNotice({ ...saidNotice(told, nowMs), isWithoutTrays }) };
}

/** A question in words. */
export function spokenAsk<Told extends ToldAsk>(
  { said, sentence = '', ...told }: Told,
  say: DeskSentences,
): Omit<Told, 'said' | 'sentence'> & { readonly sentence: string } {
  const asked = said === undefined ? sentence : say.ask({ ...said, trayIds: told.trays });
  return { ...told, sentence: asked };
}
