import { type AddressInfo, createServer } from 'node:net';
import { Readable } from 'node:stream';
import { setTimeout as sleep } from 'node:timers/promises';
import { Aedes } from 'aedes';
import { expect, it } from 'vitest';
import { farmTopics } from '../../shared/wire/topics.js';
import { MonitorClient } from '../../src/messaging/wire/monitor-client.js';

/** Longer than a quiet broker ever needs for what it has retained. */
const BUSY_MS = 700;

it('a farm is found at a broker that is slow with what it has retained', async () => {
  const broker = await Aedes.createBroker();
  // not in the library's types: where it takes retained messages from
  const { persistence } = broker as unknown as {
    persistence: { createRetainedStreamCombi(patterns: string[]): AsyncIterable<unknown> };
  };
  const atOnce = persistence.createRetainedStreamCombi.bind(persistence);
  persistence.createRetainedStreamCombi = (patterns) =>
    Readable.from(
      (async function* () {
        await sleep(BUSY_MS);
        yield* atOnce(patterns);
      })(),
    );
  const server = createServer((socket) => void broker.handle(socket));
  await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
  const status = JSON.stringify({ at: '2026-04-18T06:00:00Z', online: true });
  await new Promise<void>((done, fail) =>
    broker.publish(
      {
        cmd: 'publish',
        qos: 1,
        dup: false,
        retain: true,
        topic: farmTopics('alder-row').status,
        payload: status,
      },
      (error) => (error ? fail(error) : done()),
    ),
  );
  try {
    const { port } = server.address() as AddressInfo;
    const monitor = await MonitorClient.reach({ address: `mqtt://127.0.0.1:${port}` });
    expect(monitor.farm).toBe('alder-row');
    await monitor.close();
  } finally {
    await new Promise<void>((closed) => broker.close(() => closed()));
    await new Promise((closed) => server.close(closed));
  }
});
