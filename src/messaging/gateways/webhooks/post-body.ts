import type { FarmSpeech } from '../../../watering/sentences/speech.js';
import { lateWords, type Way } from '../../outbox/late-words.js';
import type { WaitingMessage } from '../../outbox/outbox.js';
import { wirePayload } from '../../outbox/wire-payload.js';

/** What is posted of a waiting message: type and payload as over MQTT, its sentence with the time it is from when it was held up. */
export function postBody(message: WaitingMessage, way: Way, nowMs: number, speech: FarmSpeech): string {
  const { topic, queuedAtMs } = message;
  const data = JSON.parse(wirePayload(message, speech.say)) as { at?: string; sentence?: string };
  const { sentence } = data;
  const late =
    sentence === undefined ? {} : { sentence: lateWords(sentence, way, queuedAtMs, nowMs, speech) };
  return JSON.stringify({ type: topic, timestamp: data.at, data: { ...data, ...late } });
}
