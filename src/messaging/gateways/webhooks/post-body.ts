import type { FarmSpeech } from '../../../watering/sentences/speech.js';
import { lateWords, type Way } from '../../outbox/late-words.js';
import type { WaitingMessage } from '../../outbox/outbox.js';
import { callMessage } from '../../outbox/waiting-call.js';

/** What is posted of a waiting message: type and payload as over MQTT, its sentence with the time it is from when it was held up. */
export function postBody(
  { kind, topic, payload: kept, queuedAtMs }: WaitingMessage,
  way: Way,
  nowMs: number,
  speech: FarmSpeech,
): string {
  const payload = kind === 'call' ? callMessage(kept) : kept;
  const data = JSON.parse(payload) as { at?: string; sentence?: string };
  const { sentence } = data;
  const late =
    sentence === undefined ? {} : { sentence: lateWords(sentence, way, queuedAtMs, nowMs, speech) };
  return JSON.stringify({ type: topic, timestamp: data.at, data: { ...data, ...late } });
}
