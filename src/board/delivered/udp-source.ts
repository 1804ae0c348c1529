import { createSocket } from 'node:dgram';
import type { Delivery, DeliverySource } from '../../monitor/ports/ports.js';
import { createLineCutter } from './line-cutter.js';

/** JSON lines that come in as datagrams, one or several lines each. */
export function openUdpSource(host: string, port: number, nowMs: () => number): DeliverySource {
  const listeners: ((delivery: Delivery) => void)[] = [];
  const socket = createSocket(host.includes(':') ? 'udp6' : 'udp4');
  let trouble: string | undefined;
  socket.on('error', (cause: NodeJS.ErrnoException) => {
    trouble =
      cause.code === 'EADDRINUSE'
        ? `UDP port ${port} is in use by another program`
        : `UDP port ${port} can't be heard on ${host}: ${cause.message}`;
  });
  socket.on('message', (datagram) => {
    const cut = createLineCutter((text) => {
      for (const listener of listeners) listener({ text, arrivedAtMs: nowMs(), retained: false });
    });
    cut(`${datagram.toString('utf8')}\n`);
  });
  socket.bind(port, host);
  return {
    onDelivery: (listener) => void listeners.push(listener),
    trouble: () => trouble,
    close: () =>
      new Promise((resolve) => {
        try {
          socket.close(() => resolve());
        } catch {
          // a socket that never opened is closed already
          resolve();
        }
      }),
  };
}
