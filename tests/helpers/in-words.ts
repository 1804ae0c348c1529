import { unitsSchema } from '../../shared/config/notices.js';
import type { Said } from '../../src/watering/sentences/said/said.js';
import { createSpeech } from '../../src/watering/sentences/speech.js';
import { sayIn } from '../../src/watering/sentences/spoken.js';

/** The English of the tests' farms. */
export const english = createSpeech({ timeZone: 'UTC', units: unitsSchema.parse({}) }).say;

/** What is said, in English; empty where nothing is. */
export function inWords(said: Said | undefined): string {
  return said === undefined ? '' : sayIn(said, english);
}
