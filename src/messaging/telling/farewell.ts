import type { MqttClient } from 'mqtt';
import type { Status } from '../../../shared/facts/status.js';

/** Says goodbye: the house is off on purpose. Resolves when the broker has it, or after this long. */
export function sayFarewell(
  client: MqttClient,
  topic: string,
  farewell: Status,
  patienceMs: number,
): Promise<void> {
  return new Promise((resolve) => {
    const timer = setTimeout(resolve, patienceMs);
    client.publish(topic, JSON.stringify(farewell), { qos: 1, retain: true }, () => {
      clearTimeout(timer);
      resolve();
    });
  });
}
