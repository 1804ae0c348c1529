import { execFileSync } from 'node:child_process';
import { once } from 'node:events';
import { readdirSync } from 'node:fs';
import { connect, type Socket } from 'node:net';
import { setTimeout as sleep } from 'node:timers/promises';
import type { FaultHouse } from '../fault-house.js';
import { type Harm, signal, span } from './harm.js';

const FEW_DESCRIPTORS = 8;
const CROWD = 60;
/** About what the program's live heap needs; a default one may grow to gigabytes. */
const SMALL_HEAP_MB = 48;
const ASKED_AT_ONCE = 20;

const prlimit = (house: FaultHouse, most: string) =>
  execFileSync('prlimit', ['--pid', String(house.monitor.pid), `--nofile=${most}`]);

async function crowd(port: number): Promise<readonly Socket[]> {
  const sockets = Array.from({ length: CROWD }, () =>
    connect({ port, host: '127.0.0.1' }).on('error', () => undefined),
  );
  await Promise.race([once(sockets[0] as Socket, 'connect'), sleep(500)]);
  return sockets;
}

/** Everybody opens the page and asks for the year, again and again. */
async function askForAll(house: FaultHouse, untilMs: number): Promise<void> {
  const ask = async () => {
    while (performance.now() < untilMs)
      await fetch(`http://127.0.0.1:${house.ports.page}/`)
        .then((answer) => answer.arrayBuffer())
        .catch(() => undefined);
  };
  await Promise.all(Array.from({ length: ASKED_AT_ONCE }, ask));
}

/** What is done to the process and to the machine around it. */
export const PROCESS_HARMS: readonly Harm[] = [
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
    name: 'memory pressure',
    needs: [],
    spares: 'all',
    env: { NODE_OPTIONS: `--max-old-space-size=${SMALL_HEAP_MB}` },
    do: (house, { random }) => askForAll(house, performance.now() + span(random)),
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
];
