import type { AlarmTransition, Call } from '../../../shared/facts/alarm.js';
import type { RoundNotice } from '../../../shared/facts/round-notice.js';
import type { DeskSentences } from '../../watering/sentences/said/desk-sentences.js';
import { spokenAlarm, spokenAsk, spokenCall, spokenNotice } from '../../watering/sentences/spoken.js';
import type { Fact } from './facts.js';

/** What has been put into words no longer carries what the words were made of. */
type Spoken<Message> = Message & { readonly said?: undefined };

/** A fact as people, files and programs get it: what is said in it stands as a sentence. */
export type SpokenFact =
  | Exclude<Fact, { readonly kind: 'alarm' | 'call' | 'round-notice' | 'ask' }>
  | { readonly kind: 'alarm'; readonly transition: Spoken<AlarmTransition>; readonly ref?: string }
  | { readonly kind: 'call'; readonly call: Spoken<Call> }
  | { readonly kind: 'round-notice'; readonly notice: Spoken<RoundNotice> }
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
    default:
      return fact;
  }
}
