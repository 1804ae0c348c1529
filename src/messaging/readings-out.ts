import type { MqttClient } from 'mqtt';
import type { FarmTopics } from '../../shared/topics.js';
import type { JudgedReading } from '../monitor/facts.js';
import { byProbe, readingPack } from './reading-pack.js';

/** Tells readings once or not at all: QoS 0, nothing waits, what could not be told is counted. */
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
    for (const [probe, group] of byProbe(readings))
      client.publish(this.#topics.reading(probe), JSON.stringify(readingPack(this.#farm, group)), { qos: 0 });
  }
}
