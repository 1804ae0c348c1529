import type { Note } from '../../../shared/base/note.js';
import type { AlarmTransition, Call } from '../../../shared/facts/alarm.js';
import type { RoundNotice } from '../../../shared/facts/round-notice.js';
import type { Answer } from '../../../shared/wire/command.js';
import type { DeskSentences } from '../../watering/sentences/said/desk-sentences.js';
import {
  spokenAlarm,
  spokenAnswer,
  spokenAsk,
  spokenCall,
  spokenNote,
  spokenNotice,
} from '../../watering/sentences/spoken.js';
import type { Fact } from './facts.js';

/** What has been put into words no longer carries what the words were made of. */
type Spoken<Message> = Message & { readonly said?: undefined };

/** A fact as people, files and programs get it: what is said in it stands as a sentence. */
export type SpokenFact =
  | Exclude<
      Fact,
      { readonly kind: 'alarm' | 'call' | 'round-notice' | 'ask' | 'answer' | 'note' | 'note-undone' }
    >
  | { readonly kind: 'alarm'; readonly transition: Spoken<AlarmTransition>; readonly ref?: string }
  | { readonly kind: 'call'; readonly call: Spoken<Call> }
  | { readonly kind: 'round-notice'; readonly notice: Spoken<RoundNotice> }
  | { readonly kind: 'answer'; readonly answer: Spoken<Answer> }
  | Spoken<{ readonly kind: 'note'; readonly undone?: true; readonly ref?: string } & Note>
  | { readonly kind: 'note-undone'; readonly note: Spoken<Note> }
  | Spoken<{
      readonly kind: 'ask';
      readonly at: string;
      readonly trays: readonly string[];
      readonly sentence: string;
    }>;

/** Puts a fact into the farm's words. */
export function spokenFact(fact: Fact, say: DeskSentences): SpokenFact {
  switch (fact.kind) {
    case 'alarm':
      return { ...fact, transition: spokenAlarm(fact.transition, say) };
    case 'call':
      return { kind: 'call', call: spokenCall(fact.call, say) };
    case 'round-notice':
      return { kind: 'round-notice', notice: spokenNotice(fact.notice, say) };
    case 'ask':
      return spokenAsk(fact, say);
    case 'answer':
      return { kind: 'answer', answer: spokenAnswer(fact.answer, say) };
    case 'note':
      return spokenNote(fact, say);
    case 'note-undone':
      return { kind: 'note-undone', note: spokenNote(fact.note, say) };
    default:
      return fact;
  }
}
