import { createServer, type IncomingMessage, request, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { setTimeout as sleep } from 'node:timers/promises';

/** Longer than the program waits in a fault house. */
const SLOW_MS = 3_000;
const UNAVAILABLE = 503;

/** Stands between the program and InfluxDB: open, slow (the server does what it is asked, the answer comes too late), or refusing writes. */
export interface InfluxGate {
  readonly url: string;
  set(state: 'open' | 'slow' | 'refuses'): void;
  close(): Promise<void>;
}

/** Opens a gate to an InfluxDB on a port of this machine. */
export async function openInfluxGate(toPort: number): Promise<InfluxGate> {
  let state: 'open' | 'slow' | 'refuses' = 'open';
  const pass = (asked: IncomingMessage, answer: ServerResponse) => {
    const { method, url: path, headers } = asked;
    const isSlow = state === 'slow';
    const inner = request({ host: '127.0.0.1', port: toPort, method, path, headers }, async (response) => {
      if (isSlow) await sleep(SLOW_MS);
      answer.writeHead(response.statusCode ?? UNAVAILABLE, response.headers);
      response.pipe(answer);
    });
    inner.on('error', () => answer.destroy());
    asked.pipe(inner);
  };
  const server = createServer((asked, answer) => {
    if (state !== 'refuses') return pass(asked, answer);
    asked.resume();
    return answer.writeHead(UNAVAILABLE).end('{"error":"timeout"}');
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    set: (next) => {
      state = next;
    },
    close: () => {
      server.closeAllConnections();
      return new Promise((resolve) => server.close(() => resolve()));
    },
  };
}
