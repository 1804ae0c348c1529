import { createSocket } from 'node:dgram';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PassThrough } from 'node:stream';
import { afterEach, describe, expect, it } from 'vitest';
import { farmConfigSchema } from '../../shared/config/farm.js';
import { openSerialSource } from '../../src/board/delivered/serial-source.js';
import { openUdpSource } from '../../src/board/delivered/udp-source.js';
import { createLog } from '../../src/cli/program/log.js';
import { openHouse } from '../../src/cli/running/house-parts/house.js';
import { openProbes } from '../../src/cli/running/house-parts/open-probes.js';
import { createPublisher } from '../../src/messaging/publisher.js';
import type { Clock, Delivery } from '../../src/monitor/ports/ports.js';
import { openSqliteStore } from '../../src/store/sqlite/open-sqlite-store.js';
import { describeIf } from '../helpers/needs.js';
import { freePort } from '../messaging/free-port.js';
import { listener } from '../messaging/listener.js';
import { createMosquitto, LOGIN } from '../messaging/mosquitto.js';

const START_MS = Date.parse('2026-04-18T08:00:00Z');
const STEP_MS = 300_000;

const undo: (() => Promise<void> | void)[] = [];
afterEach(async () => {
  for (const step of undo.splice(0).reverse()) await step();
});

/** A clock that stands until it is moved; who sleeps wakes when its time has come. */
class StepClock implements Clock {
  #atMs = START_MS;
  #sleepers: { untilMs: number; wake: () => void }[] = [];
  nowMs = () => this.#atMs;
  monotonicMs = () => this.#atMs;
  sleep(ms: number, signal?: AbortSignal): Promise<void> {
    return new Promise((resolve, reject) => {
      if (signal?.aborted === true) return reject(signal.reason as Error);
      const stop = () => reject(signal?.reason as Error);
      signal?.addEventListener('abort', stop, { once: true });
      const wake = () => {
        signal?.removeEventListener('abort', stop);
        resolve();
      };
      this.#sleepers.push({ untilMs: this.#atMs + ms, wake });
    });
  }
  step(ms: number): void {
    this.#atMs += ms;
    const due = this.#sleepers.filter(({ untilMs }) => untilMs <= this.#atMs);
    this.#sleepers = this.#sleepers.filter(({ untilMs }) => untilMs > this.#atMs);
    for (const { wake } of due) wake();
  }
}

describeIf('mosquitto', 'a probe that is delivered by radio', () => {
  it('goes through the broker to the alarm that its block is dry, and to the one that it has fallen silent', async () => {
    const mosquitto = await createMosquitto();
    undo.push(() => mosquitto.close());
    const url = `mqtt://127.0.0.1:${mosquitto.port}`;
    const config = farmConfigSchema.parse({
      farm: 'alder-row',
      cadenceS: STEP_MS / 1000,
      benches: [{ id: 'south' }],
      trays: [
        {
          id: 't1',
          bench: 'south',
          blockSideMm: 38,
          blockCount: 72,
          containerCapacityM3PerM3: 0.6,
          refillPointM3PerM3: 0.35,
        },
      ],
      probes: [
        {
          id: 'moist-t1',
          kind: 'block-moisture',
          tray: 't1',
          calibration: [
            { volts: 2.2, waterContentM3PerM3: 0.15 },
            { volts: 1.3, waterContentM3PerM3: 0.6 },
          ],
          hookup: {
            part: 'delivered',
            topic: 'nodes/n1/block',
            path: '/block/mv',
            unit: 'mV',
            staleAfterS: 720,
            batteryPath: '/bat',
            signalPath: '/rssi',
          },
        },
        {
          id: 'temp-south',
          kind: 'air-temperature',
          bench: 'south',
          hookup: { part: 'delivered', topic: 'nodes/n1/air', staleAfterS: 720 },
        },
      ],
      messaging: { url, ...LOGIN },
    });
    const login = { username: LOGIN.user, password: LOGIN.password };
    const phone = await listener(url, ['drybell/alder-row/alarm/#'], login);
    undo.push(() => phone.close());
    // an old word that the broker kept must not count as a reading
    await phone.client.publishAsync('nodes/n1/block', '{"block":{"mv":1320}}', { retain: true, qos: 1 });

    const folder = mkdtempSync(join(tmpdir(), 'drybell-delivered-'));
    undo.push(() => rmSync(folder, { recursive: true, force: true }));
    const log = createLog('silent');
    const clock = new StepClock();
    const publisher = await createPublisher({
      farm: config.farm,
      config: config.messaging,
      drive: 'live',
      timeZone: config.timeZone,
      dataFolder: folder,
      nowMs: clock.nowMs,
      log,
    });
    undo.push(() => publisher.close());
    const stillClock = {
      ...clock,
      nowMs: clock.nowMs,
      monotonicMs: clock.monotonicMs,
      sleep: (_ms: number, signal?: AbortSignal) =>
        new Promise<void>((_, reject) => {
          signal?.addEventListener('abort', () => reject(signal.reason as Error));
        }),
    };
    const store = openSqliteStore({ folder, clock: stillClock });
    undo.push(() => store.close());
    const reader = openProbes({ config, clock, brokerAddress: url, asWhom: 'probes', log });
    undo.push(() => reader.close());
    const house = await openHouse({ config, drive: 'live', clock, clockSpeed: 1, reader, store, publisher });
    const { finished } = house.monitor.start();
    undo.push(async () => {
      await house.monitor.close();
      await finished;
    });
    const step = async (): Promise<void> => {
      clock.step(STEP_MS);
      await house.feed.command({ do: 'note', text: 'a step' });
    };
    const hear = async (probe: string): Promise<void> => {
      await expect.poll(() => reader.news?.().get(probe)?.heardAtMs, { timeout: 10_000 }).toBe(clock.nowMs());
    };
    // the subscription stands when a first word is heard
    await expect
      .poll(
        () => {
          phone.send('nodes/n1/air', '24.0');
          return reader.news?.().has('temp-south');
        },
        { timeout: 10_000, interval: 100 },
      )
      .toBe(true);
    expect(reader.news?.().has('moist-t1')).toBe(false);
    for (let n = 0; n < 8; n++) {
      await step();
      phone.send('nodes/n1/air', `${24 + n / 10}`);
      phone.send('nodes/n1/block', JSON.stringify({ block: { mv: 1960 + 2 * n }, bat: 3.71, rssi: -71 }));
      await hear('moist-t1');
      await hear('temp-south');
    }
    const dry = await phone.next(
      ({ topic, text }) => topic.endsWith('/alarm/t1/dry') && text.includes('unack'),
    );
    expect(JSON.parse(dry.text)).toMatchObject({ kind: 'dry', tray: 't1', state: 'unacknowledged' });
    expect(house.feed.present().news?.get('moist-t1')).toMatchObject({ battery: 3.71, signalDbm: -71 });

    // the node's battery dies; the air probe speaks on
    for (let n = 0; n < 8; n++) {
      await step();
      phone.send('nodes/n1/air', `${25 - n / 10}`);
      await hear('temp-south');
    }
    const silent = await phone.next(
      ({ topic, text }) => topic.endsWith('/alarm/moist-t1/probe') && text.includes('unack'),
    );
    expect(JSON.parse(silent.text)).toMatchObject({ kind: 'probe', source: 'moist-t1' });
  });
});

describe('JSON lines', () => {
  it('come over UDP', async () => {
    const port = await freePort();
    const source = openUdpSource('127.0.0.1', port, () => 7);
    undo.push(() => source.close());
    const heard: Delivery[] = [];
    source.onDelivery((delivery) => heard.push(delivery));
    const node = createSocket('udp4');
    undo.push(() => void node.close());
    await expect
      .poll(() => {
        node.send('{"t":1}\n{"t":2}\n', port, '127.0.0.1');
        return heard.map(({ text }) => text).slice(0, 2);
      })
      .toEqual(['{"t":1}', '{"t":2}']);
    expect(heard[0]).toEqual({ text: '{"t":1}', arrivedAtMs: 7, retained: false });
    const second = openUdpSource('127.0.0.1', port, () => 7);
    undo.push(() => second.close());
    await expect.poll(() => second.trouble()).toBe(`UDP port ${port} is in use by another program`);
  });

  it('come over a serial port, which is opened again after it was pulled', async () => {
    const clock = new StepClock();
    const streams = [new PassThrough(), new PassThrough()];
    let opened = 0;
    const source = openSerialSource(
      '/dev/ttyUSB1',
      async () => {
        const stream = streams[opened++];
        if (stream === undefined) throw new Error('there is no port /dev/ttyUSB1');
        return stream;
      },
      { clock, nowMs: clock.nowMs },
    );
    undo.push(() => source.close());
    const heard: string[] = [];
    source.onDelivery(({ text }) => heard.push(text));
    await expect.poll(() => source.trouble()).toBeUndefined();
    streams[0]?.write('{"node":"n1",');
    streams[0]?.write('"t":21}\r\n{"node":"n2","t":22}\n');
    await expect.poll(() => heard).toEqual(['{"node":"n1","t":21}', '{"node":"n2","t":22}']);
    streams[0]?.destroy();
    await expect.poll(() => source.trouble()).toBe('/dev/ttyUSB1 was unplugged');
    clock.step(5_000);
    await expect.poll(() => source.trouble()).toBeUndefined();
    streams[1]?.write('{"t":23}\n');
    await expect.poll(() => heard.at(-1)).toBe('{"t":23}');
  });
});
