import type { MqttClient } from 'mqtt';
import type { FarmTopics } from '../../../shared/wire/topics.js';
import type { JudgedReading } from '../../monitor/ports/facts.js';
import { byProbe, readingPack } from './reading-pack.js';

/** What a connection may hold unsent before readings are left out: an hour of a farm's hundred probes by the minute (judgement). */
const MOST_UNSENT_BYTES = 1_048_576;

/** Tells readings once or not at all: QoS 0, nothing waits behind a broker that does not read on, what could not be told is counted. */
export class ReadingsOut {
  readonly #farm: string;
  readonly #topics: FarmTopics;
  #untoldCount = 0;

  constructor(farm: string, topics: FarmTopics) {
    this.#farm = farm;
    this.#topics = topics;
  }

  /** Readings that nobody was there to take. */
  get untoldCount(): number {
    return this.#untoldCount;
  }

  tell(readings: readonly JudgedReading[], client: MqttClient | undefined): void {
    if (client === undefined) {
      this.#untoldCount += readings.length;
      return;
    }
    for (const [probe, group] of byProbe(readings)) {
      if (client.stream.writableLength > MOST_UNSENT_BYTES) this.#untoldCount += group.length;
      else
        client.publish(this.#topics.reading(probe), JSON.stringify(readingPack(this.#farm, group)), {
          qos: 0,
        });
    }
  }
}
