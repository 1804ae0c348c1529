import type { AddressInfo, Server } from 'node:net';
import { networkInterfaces } from 'node:os';
import { errorCode, errorText, MessagingError } from '../wire/messaging-error.js';

/** An address of this machine that others can use. */
export function reachableHost(host: string): string {
  if (host !== '0.0.0.0' && host !== '::') return host;
  const found = Object.values(networkInterfaces())
    .flat()
    .find((face) => face !== undefined && !face.internal && face.family === 'IPv4');
  return found?.address ?? '127.0.0.1';
}

function listenError(cause: unknown, host: string, port: number, key: string): MessagingError {
  const where = `Cannot open the MQTT broker on ${host}:${port}`;
  switch (errorCode(cause)) {
    case 'EADDRINUSE':
      return new MessagingError(
        'port-taken',
        `${where}: another program listens there; stop it, or choose another messaging.${key} (0 takes a free one)`,
        { cause },
      );
    case 'EACCES':
      return new MessagingError(
        'address-unusable',
        `${where}: ports below 1024 need special rights; choose a messaging.${key} such as 1883`,
        { cause },
      );
    default:
      return new MessagingError(
        'address-unusable',
        `${where}: ${errorText(cause)}; check messaging.listenHost, "127.0.0.1" for this machine alone`,
        { cause },
      );
  }
}

/** Listens; resolves with the port. Rejects with a MessagingError that names the key to change. */
export async function listenAt(server: Server, host: string, port: number, key: string): Promise<number> {
  try {
    await new Promise<void>((resolve, reject) => {
      server.once('error', reject);
      server.listen(port, host, () => {
        server.off('error', reject);
        resolve();
      });
    });
  } catch (cause) {
    throw listenError(cause, host, port, key);
  }
  return (server.address() as AddressInfo).port;
}
