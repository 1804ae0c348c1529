import type { FarmTopics } from '../../../shared/wire/topics.js';
import type { FarmSpeech } from '../../watering/sentences/speech.js';
import type { DurableMessage } from '../outbox/fact-messages.js';
import type { Outbox } from '../outbox/outbox.js';
import { wirePayload } from '../outbox/wire-payload.js';

/** What is retained, alarms and the round's notice, in words as the broker has it. */
export class RetainedWords {
  constructor(
    private readonly outbox: Outbox,
    private readonly topics: FarmTopics,
    private readonly say: FarmSpeech['say'],
  ) {}

  /** Payload by topic. */
  all(): ReadonlyMap<string, string> {
    const kept = [...this.outbox.retained()];
    return new Map(kept.map(([topic, payload]) => [topic, this.inWords(topic, payload)]));
  }

  /** After a restart the house tells what still stands; what is retained word for word already is no news. */
  areToldAlready([first]: readonly DurableMessage[]): boolean {
    if (first?.retain !== true) return false;
    const before = this.outbox.retainedAt(first.topic);
    if (before === undefined) return false;
    const [kept, told] = [before, first.payload].map((payload) => this.inWords(first.topic, payload));
    return withoutId(kept ?? '') === withoutId(told ?? '');
  }

  private inWords(topic: string, payload: string): string {
    const kind = topic === this.topics.round ? 'round' : 'alarm';
    return wirePayload({ kind, payload }, this.say);
  }
}

function withoutId(payload: string): string {
  return JSON.stringify({ ...(JSON.parse(payload) as object), id: '' });
}
