import type { JournalEntry } from '../../../../shared/page/page-journal.js';
import type { PagePresent } from '../../../../shared/page/page-present.js';

/** connecting: no word yet since the page opened. live: the house speaks. lost: it has fallen silent. */
export type Contact = 'connecting' | 'live' | 'lost';

export interface FarmState {
  /** Last known picture; undefined when this phone never saw the farm. */
  readonly present: PagePresent | undefined;
  readonly contact: Contact;
  /** This phone's clock when the house was last heard. */
  readonly heardAtMs: number;
  /** Lines of the journal that came while the page was open, newest first. */
  readonly fresh: readonly JournalEntry[];
}

export interface Store<State> {
  get(): State;
  set(change: Partial<State>): void;
  subscribe(listener: () => void): () => void;
}

/** A value that views watch. */
export function createStore<State extends object>(initial: State): Store<State> {
  let state = initial;
  const listeners = new Set<() => void>();
  return {
    get: () => state,
    set: (change) => {
      state = { ...state, ...change };
      for (const listener of listeners) listener();
    },
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

/** The farm's clock at this phone's instant: it ran on from the last word, at the house's speed. */
export function farmNowMs(state: FarmState, phoneNowMs: number): number {
  const { present } = state;
  if (present === undefined) return phoneNowMs;
  return Date.parse(present.at) + Math.max(0, phoneNowMs - state.heardAtMs) * present.clockSpeed;
}
