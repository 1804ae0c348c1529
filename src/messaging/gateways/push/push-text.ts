import type { Language } from '../../../../shared/base/language.js';
import { MS_PER_DAY, MS_PER_HOUR, MS_PER_MIN } from '../../../../shared/base/time-units.js';
import type { PushMessage } from '../../../../shared/wire/push.js';
import type { FarmSpeech } from '../../../watering/sentences/speech.js';
import type { DurableMessage } from '../../outbox/fact-messages.js';
import { lateWords } from '../../outbox/late-words.js';
import type { WaitingMessage } from '../../outbox/outbox.js';
import { wirePayload } from '../../outbox/wire-payload.js';

type PushType = PushMessage['type'];

/** How long a push service keeps a message for a phone that is off (RFC 8030 §5.2), and how it wakes the phone (§5.3). */
interface Handling {
  readonly lifeMs: number;
  readonly urgency: 'high' | 'normal';
  /** A later one takes its place, at the push service (§5.4) and on the screen. */
  readonly replaces: boolean;
}

/** Lives as what waits is judged here (`judge-waiting`); a call's is a judgement: after four hours the page knows better. */
const HANDLING: Readonly<Record<PushType, Handling>> = {
  call: { lifeMs: 4 * MS_PER_HOUR, urgency: 'high', replaces: false },
  round: { lifeMs: 2 * MS_PER_HOUR, urgency: 'normal', replaces: true },
  ask: { lifeMs: MS_PER_DAY, urgency: 'normal', replaces: true },
  'test-call': { lifeMs: 10 * MS_PER_MIN, urgency: 'high', replaces: true },
};

/** A push service takes at least 4096 bytes, of which the encryption wants 103 (RFC 8291 §4); a little is left over. */
const MOST_BYTES = 3900;

/** Words to people are pushed; of the rest those wait beside them by which they are judged. */
const judgedBy: ReadonlySet<DurableMessage['kind']> = new Set(['alarm', 'watering', 'tray-event']);

const isPushed = (kind: DurableMessage['kind']): kind is PushType & DurableMessage['kind'] =>
  kind in HANDLING;

/** A message of the broker as it waits for a phone; undefined: it is nothing to it. */
export function forPhones(told: DurableMessage): DurableMessage | undefined {
  if (told.payload === '' || !(isPushed(told.kind) || judgedBy.has(told.kind))) return undefined;
  return { ...told, topic: told.kind, retain: false };
}

interface Told {
  readonly at: string;
  readonly said?: object;
  readonly sentence?: string;
  readonly over?: boolean;
}

/** True for what is not pushed: what others are judged by, what is over, and what has no words. */
export function staysOffPhones({ kind, payload }: Pick<DurableMessage, 'kind' | 'payload'>): boolean {
  if (!isPushed(kind)) return true;
  const { said, sentence = '', over } = JSON.parse(payload) as Told;
  return over === true || (said === undefined && sentence === '');
}

export interface PushText {
  /** JSON of a `PushMessage`. */
  readonly payload: string;
  readonly ttlS: number;
  readonly urgency: Handling['urgency'];
  readonly topic: string | undefined;
}

/** What is pushed of a waiting message, its sentence with the time it is from when it was held up. */
export function pushText(
  waiting: WaitingMessage,
  farm: { readonly name: string; readonly language: Language; readonly speech: FarmSpeech },
  nowMs: number,
): PushText {
  const { id, kind, queuedAtMs } = waiting;
  if (!isPushed(kind)) throw new TypeError(`"${kind}" is nothing for a phone`);
  const { lifeMs, urgency, replaces } = HANDLING[kind];
  const told = JSON.parse(wirePayload(waiting, farm.speech.say)) as Required<Told>;
  const message = (sentence: string): PushMessage => ({
    type: kind,
    id,
    at: told.at,
    farm: farm.name,
    sentence,
    language: farm.language,
    tag: replaces ? kind : id,
  });
  const whole = lateWords(told.sentence, { phone: true }, queuedAtMs, nowMs, farm.speech);
  let letters = [...whole];
  let text = JSON.stringify(message(whole));
  while (Buffer.byteLength(text) > MOST_BYTES) {
    letters = letters.slice(0, Math.floor(letters.length * 0.9));
    text = JSON.stringify(message(`${letters.join('')} …`));
  }
  return { payload: text, ttlS: lifeMs / 1000, urgency, topic: replaces ? kind : undefined };
}
