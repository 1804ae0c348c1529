import { MqttClient } from 'mqtt';
import mqttPacket from 'mqtt-packet';
import { expect, it, vi } from 'vitest';
import { farmTopics } from '../../shared/wire/topics.js';
import { streamPair } from '../../src/messaging/embedded/stream-pair.js';
import { ReadingsOut } from '../../src/messaging/readings/readings-out.js';

const FARM = 'alder-row';
const TOLD = 20_000;
const MOST_HELD_BYTES = 1_200_000;

it('a broker that reads no more costs a bounded memory: the readings beyond are counted as not told', async () => {
  const [ours, brokers] = streamPair();
  const client = new MqttClient(() => ours, { clientId: 'monitor', reconnectPeriod: 0 });
  const parser = mqttPacket.parser();
  let heard = 0;
  parser.on('packet', ({ cmd }) => {
    if (cmd === 'connect')
      brokers.write(mqttPacket.generate({ cmd: 'connack', returnCode: 0, sessionPresent: false }));
    if (cmd === 'publish') heard += 1;
  });
  brokers.on('data', (chunk: Buffer) => parser.parse(chunk));
  await new Promise<void>((resolve) => client.once('connect', () => resolve()));
  brokers.pause();

  const out = new ReadingsOut(FARM, farmTopics(FARM));
  for (let n = 0; n < TOLD; n++)
    out.tell(
      [
        {
          probeId: 'temp-1',
          observedAtMs: n,
          rawValue: n,
          rawUnit: 'Cel',
          waterContentM3PerM3: undefined,
          flag: 1,
          flagReasons: [],
          calibrationId: undefined,
        },
      ],
      client,
    );
  expect(client.stream.writableLength).toBeLessThan(MOST_HELD_BYTES);
  expect(client.stream.listenerCount('drain')).toBeLessThan(2);
  expect(out.untoldCount).toBeGreaterThan(0);

  brokers.resume();
  await vi.waitUntil(() => heard + out.untoldCount === TOLD, { timeout: 20_000 });
  await client.endAsync(true);
});
