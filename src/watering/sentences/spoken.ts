import type { AlarmTransition, Call } from '../../../shared/facts/alarm.js';
import type { RoundNotice } from '../../../shared/facts/round-notice.js';
import type { DeskSentences } from './said/desk-sentences.js';
import { saidNotice } from './said/said-notice.js';
import type { ToldAlarm, ToldAsk, ToldCall, ToldNotice } from './said/told.js';

/** An alarm's transition in words; without a sentence where there is nothing to say. */
export function spokenAlarm({ said, ...told }: ToldAlarm, say: DeskSentences): AlarmTransition {
  if (said === undefined) return told;
  const { kind, state, tray, bench, source, reason, by, shelvedUntil } = told;
  const sentence = say.transition({
    ...said,
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
  return { ...told, sentence: said === undefined ? sentence : say.call(said) };
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
