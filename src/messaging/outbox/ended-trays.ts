import type { FarmTopics } from '../../../shared/wire/topics.js';
import type { Fact } from '../../monitor/ports/facts.js';
import type { Outbox } from './outbox.js';

/** Knows which trays have ended, so that nothing retained of them stays behind, whatever order facts come in. */
export class EndedTrays {
  readonly #ended = new Set<string>();

  /** Retained topics that this fact leaves without a tray, to be cleared after it was told. */
  topicsToClear(fact: Fact, topics: FarmTopics, outbox: Outbox): readonly string[] {
    switch (fact.kind) {
      case 'tray-event': {
        const { tray, event } = fact.event;
        if (event === 'new') this.#ended.delete(tray);
        if (event !== 'ended') return [];
        this.#ended.add(tray);
        const alarms = `${topics.root}/alarm/${tray}/`;
        const kept = [...outbox.retained().keys()].filter((topic) => topic.startsWith(alarms));
        return [topics.forecast(tray), ...kept];
      }
      case 'tray-event-undone':
        if (fact.event.event === 'ended') this.#ended.delete(fact.event.tray);
        return [];
      case 'alarm': {
        const { tray, kind } = fact.transition;
        return tray !== undefined && this.#ended.has(tray) ? [topics.alarm(tray, kind)] : [];
      }
      default:
        return [];
    }
  }
}
