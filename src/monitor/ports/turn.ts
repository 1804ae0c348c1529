import type { KeptDocument } from '../../../shared/base/kept-document.js';
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
  'note-undone',
  'answer',
]);

/** The turn of these facts; undefined when nothing in it must arrive. */
export function turnOf(id: string, facts: readonly Fact[]): Turn | undefined {
  const told = facts.filter(({ kind }) => mustArrive.has(kind));
  return told.length === 0 ? undefined : { id, facts: told };
}

/** The last turn as JSON. Version 1 said no version. */
export const turnDocument: KeptDocument<Turn> = {
  name: "The last turn's messages",
  version: 2,
  unversioned: 1,
  steps: { 1: (older) => older },
  read: ({ id, facts }) =>
    typeof id === 'string' && Array.isArray(facts) ? { id, facts: facts as readonly Fact[] } : undefined,
};

/** A turn as it is kept. */
export function turnState(turn: Turn): unknown {
  return { version: turnDocument.version, ...turn };
}
