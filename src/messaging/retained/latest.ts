import type { MqttClient } from 'mqtt';

const WINDOW = 16;

/**
 * Retained topics of which only the newest payload matters: forecasts and status. A newer one replaces an older one
 * that has not gone out; after a reconnect all are told again.
 */
export class LatestBoard {
  readonly #payloads = new Map<string, string>();
  readonly #fresh = new Set<string>();
  #client: MqttClient | undefined;
  #onTheWayCount = 0;

  /** Puts it on the board; it goes out with the next `pump`. */
  set(topic: string, payload: string): void {
    this.#payloads.set(topic, payload);
    this.#fresh.add(topic);
  }

  get(topic: string): string | undefined {
    return this.#payloads.get(topic);
  }

  /** Takes a topic off the board; clearing it at the broker is the caller's. */
  forget(topic: string): void {
    this.#payloads.delete(topic);
    this.#fresh.delete(topic);
  }

  start(client: MqttClient): void {
    this.#client = client;
    this.#onTheWayCount = 0;
    for (const topic of this.#payloads.keys()) this.#fresh.add(topic);
    this.pump();
  }

  stop(): void {
    this.#client = undefined;
  }

  /** Sends what is new, as far as the window goes. */
  pump(): void {
    const client = this.#client;
    if (client === undefined) return;
    for (const topic of this.#fresh) {
      if (this.#onTheWayCount >= WINDOW) return;
      const payload = this.#payloads.get(topic);
      this.#fresh.delete(topic);
      if (payload === undefined) continue;
      this.#onTheWayCount += 1;
      client.publish(topic, payload, { qos: 1, retain: true }, () => {
        if (this.#client !== client) return;
        this.#onTheWayCount -= 1;
        this.pump();
      });
    }
  }
}
