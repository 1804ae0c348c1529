import type { TestCall } from '../../../shared/base/test-call.js';
import type { DeskSentences, SaidTest } from '../../watering/sentences/said/desk-sentences.js';
import type {
  ToldAlarm,
  ToldAnswer,
  ToldAsk,
  ToldCall,
  ToldNote,
  ToldNotice,
} from '../../watering/sentences/said/told.js';
import {
  spokenAlarm,
  spokenAnswer,
  spokenAsk,
  spokenCall,
  spokenNote,
  spokenNotice,
} from '../../watering/sentences/spoken.js';
import type { DurableMessage, WaitingKind } from './fact-messages.js';

/** A test call as it waits. */
export type ToldTest = Omit<TestCall, 'sentence'> & {
  readonly sentence?: string | undefined;
  readonly said?: Pick<SaidTest, 'farm' | 'bareSeen'> | undefined;
};

function spokenTest({ said, sentence = '', ...told }: ToldTest, say: DeskSentences): TestCall {
  if (said === undefined) return { ...told, sentence };
  return { ...told, sentence: say.testCall({ ...said, way: told.way }) };
}

/** How each kind is put into words; kinds that say nothing to people are not named. */
const SPOKEN: Readonly<
  Partial<
    Record<
      WaitingKind,
      (
        payload: string,
        say: DeskSentences,
      ) => { readonly sentence?: string | undefined; readonly at?: string | undefined }
    >
  >
> = {
  alarm: (payload, say) => spokenAlarm(JSON.parse(payload) as ToldAlarm, say),
  call: (payload, say) => spokenCall(JSON.parse(payload) as ToldCall, say),
  round: (payload, say) => spokenNotice(JSON.parse(payload) as ToldNotice, say),
  ask: (payload, say) => spokenAsk(JSON.parse(payload) as ToldAsk, say),
  note: (payload, say) => spokenNote(JSON.parse(payload) as ToldNote, say),
  answer: (payload, say) => spokenAnswer(JSON.parse(payload) as ToldAnswer, say),
  'test-call': (payload, say) => spokenTest(JSON.parse(payload) as ToldTest, say),
};

/** Kinds of which the sentence alone goes out, and as what they are put into words. */
const ALONE: Readonly<Partial<Record<WaitingKind, WaitingKind>>> = {
  'say-call': 'call',
  'say-round': 'round',
  'say-ask': 'ask',
  'say-test': 'test-call',
};

/** A waiting message as it goes out now, in the farm's words; a plain sentence, as an earlier version kept it, as it is. */
export function wirePayload(
  { kind, payload }: Pick<DurableMessage, 'kind' | 'payload'>,
  say: DeskSentences,
): string {
  const alone = ALONE[kind];
  const spoken = SPOKEN[alone ?? kind];
  if (spoken === undefined || !payload.startsWith('{')) return payload;
  const told = spoken(payload, say);
  return alone === undefined ? JSON.stringify(told) : (told.sentence ?? '');
}
