import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setImmediate as nextTurn } from 'node:timers/promises';
import { MqttClient } from 'mqtt';
import { expect, it, vi } from 'vitest';
import { openEmbeddedBroker } from '../../src/messaging/embedded/embedded-broker.js';
import { rememberingLog } from './quiet-log.js';

const TURNS = 60;
const A_TURN = 88;

it('bursts larger than a buffer reach the own broker whole, over one connection', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'drybell-burst-'));
  const { log, events } = rememberingLog();
  const broker = await openEmbeddedBroker({ farm: 'alder-row', host: '127.0.0.1', port: 0, folder, log });
  const client = new MqttClient(() => broker.connectInside(), {
    clientId: 'drybell-alder-row',
    reconnectPeriod: 0,
  });
  let closedCount = 0;
  let heardCount = 0;
  client.on('close', () => {
    closedCount += 1;
  });
  await new Promise<void>((resolve) => client.once('connect', () => resolve()));
  const listener = new MqttClient(() => broker.connectInside(), { clientId: 'listener', reconnectPeriod: 0 });
  listener.on('message', (_topic, _payload, { retain }) => {
    if (!retain) heardCount += 1;
  });
  await listener.subscribeAsync('drybell/alder-row/#');
  for (let turn = 0; turn < TURNS; turn++) {
    for (let i = 0; i < A_TURN; i++) {
      const isForecast = i >= A_TURN / 2 && turn % 5 === 0;
      const topic = `drybell/alder-row/${isForecast ? 'forecast' : 'reading'}/t${i}`;
      client.publish(topic, 'x'.repeat(300), { qos: isForecast ? 1 : 0, retain: isForecast });
    }
    await nextTurn();
  }
  // the client's end does not wait for what goes at QoS 0
  await vi.waitUntil(() => heardCount === TURNS * A_TURN || closedCount > 0, { timeout: 20_000 });
  await client.endAsync();
  await listener.endAsync();
  expect({ closedCount, heardCount, events: events.map(({ event, fields }) => [event, fields]) }).toEqual({
    closedCount: 1,
    heardCount: TURNS * A_TURN,
    events: [],
  });
  await broker.close();
  rmSync(folder, { recursive: true, force: true });
});
