import type { LevelPersistence } from 'aedes-persistence-level';
import { MS_PER_DAY } from '../../../shared/base/time-units.js';
import type { BrokerDatabase } from './level-or-memory.js';

/** How often the absence of sessions is counted on. */
export const COUNT_EVERY_MS = 21_600_000;
/**
 * A phone that has not come for so long while the monitor ran is gone (judgement: a holiday is shorter). Forty trays' hourly forecasts, kept for
 * a phone that hears everything, come to some 6 MB in that time.
 */
export const KEPT_DAYS = 14;
const MOST_COUNTS = (KEPT_DAYS * MS_PER_DAY) / COUNT_EVERY_MS;

const AWAY = 'away:';

/** Keys of the broker's persistence are `<prefix>:<client id, encoded>:<rest>`; ";" is the byte after ":". */
const rangeOf = (prefix: string) => ({ gte: prefix, lt: `${prefix.slice(0, -1)};` });

/**
 * Forgets what the broker keeps for clients that come no more: their subscriptions and what waits for them. Absence is counted in steps while
 * the broker runs, not by dates, so that a clock set wrongly, or a winter switched off, costs no phone its messages.
 */
export class OldSessions {
  readonly #away = new Map<string, number>();
  #isLoaded = false;

  constructor(
    private readonly database: BrokerDatabase,
    private readonly persistence: LevelPersistence,
  ) {}

  /** A client is there: its absence is over. */
  async cameBack(clientId: string): Promise<void> {
    await this.#load();
    const name = encodeURIComponent(clientId);
    if (this.#away.delete(name)) await this.database.del(AWAY + name);
  }

  /** Counts one step for every session whose client is not there; returns the clients that were forgotten. */
  async count(isHere: (clientId: string) => boolean): Promise<readonly string[]> {
    await this.#load();
    const forgotten: string[] = [];
    for (const name of await this.#names()) {
      const clientId = decodeURIComponent(name);
      if (isHere(clientId)) continue;
      const counts = (this.#away.get(name) ?? 0) + 1;
      if (counts < MOST_COUNTS) {
        this.#away.set(name, counts);
        await this.database.put(AWAY + name, Buffer.from(String(counts)));
      } else {
        await this.#forget(clientId, name);
        forgotten.push(clientId);
      }
    }
    return forgotten;
  }

  async #load(): Promise<void> {
    if (this.#isLoaded) return;
    this.#isLoaded = true;
    for await (const key of this.database.keys(rangeOf(AWAY))) {
      const counts = Number(await this.database.get(key));
      if (Number.isInteger(counts)) this.#away.set(key.slice(AWAY.length), counts);
    }
  }

  async #names(): Promise<ReadonlySet<string>> {
    const names = new Set<string>();
    for (const prefix of ['subscriptions:', 'outgoing:'])
      for await (const key of this.database.keys(rangeOf(prefix)))
        names.add(key.slice(prefix.length, key.indexOf(':', prefix.length)));
    return names;
  }

  async #forget(clientId: string, name: string): Promise<void> {
    await this.persistence.cleanSubscriptions({ id: clientId });
    for (const kind of ['outgoing', 'outgoing-id', 'incoming'])
      await this.database.clear(rangeOf(`${kind}:${name}:`));
    this.#away.delete(name);
    await this.database.del(AWAY + name);
  }
}
