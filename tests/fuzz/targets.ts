import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { connectAsync } from 'mqtt';
import mqttPacket from 'mqtt-packet';
import { hookupSchema } from '../../shared/config/kit/hookup.js';
import { readDelivery } from '../../src/board/delivered/read-delivery.js';
import { FirmataFrames, longestSysexBytes } from '../../src/board/line/firmata-frames.js';
import { ConfigError, loadConfig } from '../../src/cli/config/load-config.js';
import { readCommand } from '../../src/messaging/commands/read-command.js';
import { openEmbeddedBroker } from '../../src/messaging/embedded/embedded-broker.js';
import { startPage } from '../../src/review/start-page.js';
import { RecordingError } from '../../src/worlds/replay/csv-table.js';
import { readLog } from '../../src/worlds/replay/read-log.js';
import { readReadings } from '../../src/worlds/replay/read-readings.js';
import { quietLog } from '../messaging/quiet-log.js';
import { createDemoFarm } from '../page/demo-farm.js';

/** One door of the program. */
export interface Target {
  readonly name: string;
  /** Inputs that are in order, to be made bad. */
  readonly good: readonly Buffer[];
  /** Takes one input: true when it was refused in good order. Throws when it was not. */
  take(bytes: Buffer): Promise<boolean> | boolean;
  /** Still works: called now and then, and at the end. */
  works?(): Promise<void>;
  close?(): Promise<void>;
}

const FARM = 'alder-row';
/** A peer that sends nonsense waits this long for an answer or the end of the line. */
const PEER_PATIENCE_MS = 15;

const texts = (...all: readonly string[]) => all.map((text) => Buffer.from(text));

/** A file that is read by its name. */
function fileTarget(
  name: string,
  good: readonly Buffer[],
  read: (file: string) => Promise<unknown>,
  refusal: new (...all: never[]) => Error,
): Target {
  const folder = mkdtempSync(join(tmpdir(), 'drybell-fuzz-'));
  const file = join(folder, 'input');
  return {
    name,
    good,
    take: async (bytes) => {
      writeFileSync(file, bytes);
      try {
        await read(file);
        return false;
      } catch (cause) {
        if (cause instanceof refusal && cause.message !== '') return true;
        throw cause;
      }
    },
    close: () => Promise.resolve(rmSync(folder, { recursive: true })),
  };
}

const READINGS = `time,probe,value
2026-04-18T06:00:00Z,temp-south,14.5
2026-04-18T06:01:00.5+02:00,moist-celery,1.82
2026-04-18T06:02:00Z,"moist-celery",
`;
const LOG = `time,tray,event,ml,bench,toTray,grams,level
2026-04-18T06:00:00Z,celery-1,watered,1200,,,,
2026-04-18T07:00:00Z,celery-1,moved,,north,,,
2026-04-18T08:00:00Z,celery-1,potted-on,,,celery-2,,
2026-04-18T09:00:00Z,celery-1,looked,,,,,3
`;

function commandTarget(): Target {
  return {
    name: 'command',
    good: texts(
      '{"do":"watered","tray":"celery-1","at":"2026-04-18T06:00:00Z"}',
      '{"do":"tray","event":{"tray":"leek-2","event":"sown","at":"2026-04-18T06:00:00Z"}}',
      '{"do":"note","text":"looked at the heater: \\u00e4 \\"fine\\""}',
      '{"do":"round-done","except":["celery-1"]}',
    ),
    take: (bytes) => {
      const read = readCommand(bytes.toString(), 'r1');
      if (!read.ok && read.sentence === '') throw new Error('refused without a word');
      return !read.ok;
    },
  };
}

function deliveryTarget(): Target {
  const hookup = hookupSchema.parse({
    part: 'delivered',
    topic: 'nodes/1',
    path: '/a/0/v',
    timePath: '/t',
    batteryPath: '/b',
    unit: 'mV',
  });
  if (hookup.part !== 'delivered') throw new TypeError('not a delivered probe');
  return {
    name: 'delivered reading',
    good: texts(
      '{"a":[{"v":1820.5}],"t":"2026-04-18T06:00:00Z","b":3.1}',
      '{"a":[{"v":"1820"}],"t":1776492000}',
    ),
    take: (bytes) => {
      const read = readDelivery(hookup, bytes.toString());
      if (read.kind === 'reading' && !Number.isFinite(read.value))
        throw new Error(`a reading of ${read.value}`);
      return read.kind !== 'reading';
    },
  };
}

function serialTarget(): Target {
  return {
    name: 'serial line',
    good: [
      Buffer.from([0xf9, 2, 5, 0xf0, 0x79, 2, 5, 0x41, 0, 0xf7, 0xe2, 0x10, 0x07]),
      Buffer.from([0xf0, 0x6a, 0x7f, 0x7f, 0, 1, 2, 3, 0xf7, 0x90, 0x01, 0x00]),
      Buffer.from([0xf0, 0x77, 0x40, 0, 0, 0, 0x10, 1, 0xf7]),
    ],
    take: (bytes) => {
      const frames = new FirmataFrames();
      const out = frames.push(bytes);
      if (out.some((frame) => frame.length > longestSysexBytes + 2)) throw new Error('an endless message');
      const [last] = frames.push(Uint8Array.of(0xe1, 1, 1)).slice(-1);
      if (last?.[0] !== 0xe1) throw new Error('the next message was lost');
      return frames.counts.strayByteCount + frames.counts.refusedFrameCount > 0;
    },
  };
}

/** Sends bytes to a port of this machine; true when the line was ended from there. */
async function sendTo(port: number, bytes: Buffer): Promise<boolean> {
  const socket = connect({ port, host: '127.0.0.1' });
  let isEnded = false;
  socket.on('error', () => undefined);
  socket.on('close', () => {
    isEnded = true;
  });
  socket.resume();
  socket.write(bytes);
  await sleep(PEER_PATIENCE_MS);
  const wasEnded = isEnded;
  socket.destroy();
  return wasEnded;
}

async function mqttTarget(): Promise<Target> {
  const broker = await openEmbeddedBroker({ farm: FARM, host: '127.0.0.1', port: 0, log: quietLog });
  const port = Number(new URL(broker.address).port);
  const hello = mqttPacket.generate({
    cmd: 'connect',
    clientId: 'fuzz',
    protocolId: 'MQTT',
    protocolVersion: 4,
    clean: true,
    keepalive: 10,
  });
  const topic = `drybell/${FARM}/command/x`;
  const more = [
    mqttPacket.generate({
      cmd: 'publish',
      topic,
      payload: '{}',
      qos: 1,
      messageId: 7,
      dup: false,
      retain: false,
    }),
    mqttPacket.generate({ cmd: 'subscribe', messageId: 8, subscriptions: [{ topic: 'drybell/#', qos: 1 }] }),
    mqttPacket.generate({
      cmd: 'publish',
      topic,
      payload: 'x',
      qos: 2,
      messageId: 9,
      dup: false,
      retain: true,
    }),
    mqttPacket.generate({ cmd: 'unsubscribe', messageId: 10, unsubscriptions: ['drybell/#'] }),
    mqttPacket.generate({ cmd: 'pingreq' }),
  ];
  return {
    name: 'MQTT',
    good: [Buffer.concat([hello, ...more]), ...more.map((packet) => Buffer.concat([hello, packet])), hello],
    take: (bytes) => sendTo(port, bytes),
    works: async () => {
      const client = await connectAsync(broker.address, { protocolVersion: 4, connectTimeout: 60_000 });
      await client.subscribeAsync(`drybell/${FARM}/call`, { qos: 1 });
      const came = new Promise<string>((resolve) =>
        client.once('message', (_, text) => resolve(String(text))),
      );
      await broker.say({ topic: `drybell/${FARM}/call`, payload: 'still here', retain: false });
      if ((await came) !== 'still here') throw new Error('the broker said something else');
      await client.endAsync();
    },
    close: () => broker.close(),
  };
}

async function httpTarget(): Promise<Target> {
  const farm = await createDemoFarm();
  const page = await startPage({
    queries: farm.store,
    live: farm.feed,
    listenHost: '127.0.0.1',
    listenPort: 0,
    config: farm.config,
  });
  const host = `Host: 127.0.0.1:${page.port}`;
  const command = '{"do":"note","text":"x"}';
  return {
    name: 'HTTP',
    good: texts(
      `GET / HTTP/1.1\r\n${host}\r\n\r\n`,
      `GET /api/curves?from=2026-04-01T00:00:00Z&to=2026-04-18T00:00:00Z&size=19 HTTP/1.1\r\n${host}\r\n\r\n`,
      `GET /api/journal?from=2026-04-01T00:00:00Z&to=2026-05-01T00:00:00Z HTTP/1.1\r\n${host}\r\nCookie: a=b\r\n\r\n`,
      `POST /api/command HTTP/1.1\r\n${host}\r\nOrigin: http://127.0.0.1:${page.port}\r\nContent-Type: application/json\r\nContent-Length: ${command.length}\r\n\r\n${command}`,
    ),
    take: (bytes) => sendTo(page.port, bytes),
    works: async () => {
      const { status } = await fetch(`http://127.0.0.1:${page.port}/api/present`);
      if (status !== 200) throw new Error(`the page answers ${status}`);
    },
    close: () => page.close(),
  };
}

/** Every door through which something comes in. */
export async function openTargets(): Promise<readonly Target[]> {
  const example = readFileSync('shared/examples/alder-row.jsonc');
  const known = { trays: new Set(['celery-1', 'celery-2']), benches: new Set(['south', 'north']) };
  const probes = ['temp-south', 'moist-celery'];
  const nothing = () => undefined;
  return [
    fileTarget('configuration', [example], (file) => Promise.resolve(loadConfig(file)), ConfigError),
    fileTarget(
      'readings CSV',
      texts(READINGS),
      (file) => readReadings(file, probes, nothing),
      RecordingError,
    ),
    fileTarget('log CSV', texts(LOG), (file) => readLog(file, known, nothing), RecordingError),
    commandTarget(),
    deliveryTarget(),
    serialTarget(),
    await mqttTarget(),
    await httpTarget(),
  ];
}
