import { type AddressInfo, connect, createServer, type Socket } from 'node:net';

/** A cable between a client and a broker that can be pulled, or go dead without a word. */
export interface Cable {
  readonly port: number;
  /** Ends every connection; new ones are refused until `mend`. */
  pull(): void;
  /** Carries nothing any more, yet nobody is told: a half-open link. New connections are dead as well. */
  freeze(): void;
  mend(): void;
  close(): Promise<void>;
}

/** Lays a cable to a port on 127.0.0.1. */
export async function layCable(toPort: number): Promise<Cable> {
  const ends = new Set<Socket>();
  let state: 'whole' | 'pulled' | 'frozen' = 'whole';
  const server = createServer((near) => {
    if (state === 'pulled') {
      near.destroy();
      return;
    }
    const far = connect({ port: toPort, host: '127.0.0.1' });
    for (const end of [near, far]) {
      ends.add(end);
      end.setNoDelay(true);
      end.on('error', () => end.destroy());
      end.on('close', () => ends.delete(end));
    }
    near.on('data', (data) => state !== 'frozen' && far.write(data));
    far.on('data', (data) => state !== 'frozen' && near.write(data));
    near.on('close', () => state !== 'frozen' && far.destroy());
    far.on('close', () => state !== 'frozen' && near.destroy());
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const cut = () => {
    for (const end of ends) end.destroy();
  };
  return {
    port: (server.address() as AddressInfo).port,
    pull: () => {
      state = 'pulled';
      cut();
    },
    freeze: () => {
      state = 'frozen';
    },
    mend: () => {
      cut();
      state = 'whole';
    },
    close: () => {
      cut();
      return new Promise((resolve) => server.close(() => resolve()));
    },
  };
}
