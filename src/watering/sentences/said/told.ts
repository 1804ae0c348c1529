import type { Note } from '../../../../shared/base/note.js';
import type { AlarmTransition, Call } from '../../../../shared/facts/alarm.js';
import type { RoundNotice } from '../../../../shared/facts/round-notice.js';
import type { Answer } from '../../../../shared/wire/command.js';
import type { SaidAsk, SaidCall, SaidTransition } from './desk-sentences.js';
import type { Said } from './said.js';

/** A sentence that an earlier version kept in place of what it rests on. */
interface KeptSentence {
  readonly sentence?: string | undefined;
}

/** What the sentence of an alarm's transition rests on beside the transition itself. */
export type AlarmGround = Omit<SaidTransition, 'kind' | 'of' | 'state' | 'reason' | 'by' | 'untilMs'>;

/**
 * A message as it is decided, kept and handed on: data, of which a sentence is made where it leaves the house (`spoken.ts`). Without
 * `said` there is nothing to say but the sentence that an earlier version kept.
 */
export type ToldAlarm = AlarmTransition & { readonly said?: AlarmGround | undefined };
export type ToldCall = Omit<Call, 'sentence'> & KeptSentence & { readonly said?: SaidCall | undefined };
export type ToldAnswer = Omit<Answer, 'sentence'> & KeptSentence & { readonly said?: Said | undefined };
/** What people wrote has a text; what the house says of itself has none until it is put into words. */
export type ToldNote = Omit<Note, 'text'> & {
  readonly text?: string | undefined;
  readonly said?: Said | undefined;
};
/** Of a notice all that is said stands in it, but for the moment at which it is said. */
export type ToldNotice = RoundNotice & {
  readonly said?: { readonly nowMs: number; readonly isWithoutTrays?: true } | undefined;
};
export interface ToldAsk extends KeptSentence {
  readonly trays: readonly string[];
  readonly said?: Omit<SaidAsk, 'trayIds'> | undefined;
}
