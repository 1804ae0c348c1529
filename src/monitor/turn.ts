import type { Fact, FactKind } from './facts.js';

/**
 * What one turn of the monitor has to tell people, kept with the states that it left, so that a crash before it was told leaves it
 * to be told after the next start, under the same id. JSON-able.
 */
export interface Turn {
  /** Up to 20 letters, digits and dashes; never used twice on a farm. */
  readonly id: string;
  readonly facts: readonly Fact[];
}

/** Name of the state document that holds the last turn. */
export const TURN = 'turn';

const mustArrive: ReadonlySet<FactKind> = new Set([
  'alarm',
  'call',
  'round-notice',
  'ask',
  'watering',
  'tray-event',
  'tray-event-undone',
  'dry-down',
  'note',
  'answer',
]);

/** The turn of these facts; undefined when nothing in it must arrive. */
export function turnOf(id: string, facts: readonly Fact[]): Turn | undefined {
  const told = facts.filter(({ kind }) => mustArrive.has(kind));
  return told.length === 0 ? undefined : { id, facts: told };
}

/** A turn as it was kept; undefined when there is none. Our own document: nothing else writes it. */
export function keptTurn(state: unknown): Turn | undefined {
  return state === undefined || state === null ? undefined : (state as Turn);
}
