import { execFileSync } from 'node:child_process';
import { once } from 'node:events';
import { closeSync, openSync, readdirSync, statSync, writeFileSync, writeSync } from 'node:fs';
import { connect, type Socket } from 'node:net';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import type { FaultHouse, Need } from './fault-house.js';

/** What a harm is done with. */
export interface Means {
  readonly random: () => number;
  /** Offset of the program's wall clock, as libfaketime reads it. */
  readonly clockFile: string;
}

export interface Harm {
  readonly name: string;
  readonly needs: readonly Need[];
  /** What must still be found afterwards: all, or what a damaged file left. */
  readonly spares: 'all' | 'what-is-legible';
  /** Does it, and ends it again. */
  do(house: FaultHouse, means: Means): Promise<void>;
}

/** How long a harm lasts, ms: long enough to be noticed, short enough for many. */
const span = (random: () => number): number => 500 + 2_500 * random();

const SMASHED_BYTES = 512;
const SMASHES = 8;
const FEW_DESCRIPTORS = 8;
const CROWD = 60;
const DAY_S = 86_400;

function filesOf(folder: string): readonly string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .map((name) => join(folder, name))
    .filter((path) => statSync(path).isFile() && statSync(path).size > 0 && !path.endsWith('.lock'));
}

/** Writes nonsense into a file at random places, as a worn SD card would. */
function smash(path: string, random: () => number): void {
  const file = openSync(path, 'r+');
  const { size } = statSync(path);
  for (let n = 0; n < SMASHES; n++) {
    const nonsense = Buffer.from(Array.from({ length: SMASHED_BYTES }, () => Math.floor(random() * 256)));
    writeSync(file, nonsense, 0, SMASHED_BYTES, Math.floor(random() * Math.max(1, size - SMASHED_BYTES)));
  }
  closeSync(file);
}

const signal = (house: FaultHouse, name: NodeJS.Signals) => process.kill(house.monitor.pid, name);
const prlimit = (house: FaultHouse, most: string) =>
  execFileSync('prlimit', ['--pid', String(house.monitor.pid), `--nofile=${most}`]);

async function crowd(port: number): Promise<readonly Socket[]> {
  const sockets = Array.from({ length: CROWD }, () =>
    connect({ port, host: '127.0.0.1' }).on('error', () => undefined),
  );
  await Promise.race([once(sockets[0] as Socket, 'connect'), sleep(500)]);
  return sockets;
}

const steps = (name: string, seconds: number): Harm => ({
  name,
  needs: ['clock'],
  spares: 'all',
  do: async (_house, { random, clockFile }) => {
    writeFileSync(clockFile, `${seconds < 0 ? '' : '+'}${seconds}s\n`);
    await sleep(span(random));
    writeFileSync(clockFile, '+0s\n');
  },
});

/** All that is done to the house on purpose. */
export const HARMS: readonly Harm[] = [
  {
    name: 'kill -9',
    needs: [],
    spares: 'all',
    do: async (house) => {
      await house.monitor.end('SIGKILL');
      await house.monitor.startAgain();
    },
  },
  {
    name: 'stopped and started',
    needs: [],
    spares: 'all',
    do: async (house) => {
      await house.monitor.end('SIGTERM');
      await house.monitor.startAgain();
    },
  },
  {
    name: 'SIGSTOP, SIGCONT',
    needs: [],
    spares: 'all',
    do: async (house, { random }) => {
      signal(house, 'SIGSTOP');
      await sleep(span(random));
      signal(house, 'SIGCONT');
    },
  },
  {
    name: 'descriptors used up',
    needs: [],
    spares: 'all',
    do: async (house, { random }) => {
      const used = readdirSync(`/proc/${house.monitor.pid}/fd`).length;
      prlimit(house, `${used + FEW_DESCRIPTORS}:`);
      const sockets = [...(await crowd(house.ports.page)), ...(await crowd(house.ports.broker))];
      await sleep(span(random));
      for (const socket of sockets) socket.destroy();
      prlimit(house, '1024:');
    },
  },
  {
    name: 'broker killed',
    needs: ['mosquitto'],
    spares: 'all',
    do: async (house, { random }) => {
      await house.broker?.stop('SIGKILL');
      await sleep(span(random));
      await house.broker?.start();
    },
  },
  {
    name: 'broker refuses',
    needs: ['mosquitto'],
    spares: 'all',
    do: async (house, { random }) => {
      house.cable?.pull();
      await sleep(span(random));
      house.cable?.mend();
    },
  },
  {
    name: 'broker half open',
    needs: ['mosquitto'],
    spares: 'all',
    do: async (house, { random }) => {
      house.cable?.freeze();
      await sleep(span(random));
      house.cable?.mend();
    },
  },
  {
    name: 'InfluxDB killed',
    needs: ['influxd'],
    spares: 'all',
    do: async (house, { random }) => {
      await house.influx?.halt('SIGKILL');
      await sleep(span(random));
      await house.influx?.resume();
    },
  },
  {
    name: 'disk full',
    needs: ['disk'],
    spares: 'all',
    do: async (house, { random }) => {
      house.disk?.fill();
      await sleep(span(random));
      house.disk?.makeRoom();
    },
  },
  {
    name: 'disk full, kill -9',
    needs: ['disk'],
    spares: 'all',
    do: async (house, { random }) => {
      house.disk?.fill();
      await sleep(span(random));
      await house.monitor.end('SIGKILL');
      await house.monitor.startAgain();
      await sleep(span(random));
      house.disk?.makeRoom();
    },
  },
  {
    name: 'a file smashed while off',
    needs: [],
    spares: 'what-is-legible',
    do: async (house, { random }) => {
      await house.monitor.end('SIGKILL');
      const files = filesOf(house.folder);
      smash(files[Math.floor(random() * files.length)] ?? '', random);
      await house.monitor.startAgain();
    },
  },
  steps('clock 30 s on and back', 30),
  steps('clock a day on and back', DAY_S),
  steps('clock a day back and on', -DAY_S),
];
