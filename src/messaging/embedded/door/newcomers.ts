import type { BrokerDoor } from './broker-door.js';

/** Connections that have not logged in; a farm's phones do so within a second (judgement). */
const MOST_NEWCOMERS = 32;
/** Connections in all: some ten times what a farm has (judgement). */
const MOST_CONNECTIONS = 256;

/** Who is at the door. Of those who do not log in the one that waited longest gives way, so that nobody keeps others out by waiting. */
export class Newcomers {
  readonly #all = new Set<BrokerDoor>();

  enter(door: BrokerDoor): void {
    this.#all.add(door);
    door.once('close', () => this.#all.delete(door));
    const waiting = [...this.#all].filter((one) => !one.isAdmitted);
    if (waiting.length > MOST_NEWCOMERS || this.#all.size > MOST_CONNECTIONS) waiting[0]?.showOut('gave-way');
  }
}
