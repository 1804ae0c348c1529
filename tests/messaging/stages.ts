import { openEmbeddedBroker } from '../../src/messaging/embedded/embedded-broker.js';
import { type Cable, layCable } from './cable.js';
import { createMosquitto, LOGIN } from './mosquitto.js';
import { quietLog } from './quiet-log.js';

/** A broker elsewhere, with a cable to it that can be pulled. */
export interface Stage {
  readonly cable: Cable;
  /** For people: beside the cable. */
  readonly url: string;
  readonly login: { readonly user: string; readonly password: string };
  /** The broker dies and comes back without anything it had kept. */
  loseMemory(): Promise<void>;
  close(): Promise<void>;
}

async function aedesBroker(port: number) {
  return openEmbeddedBroker({
    farm: 'another-farm',
    host: '127.0.0.1',
    port,
    logins: [{ ...LOGIN, may: 'command' }],
    log: quietLog,
  });
}

/** The own broker's code, run as a broker elsewhere. */
export async function aedesStage(): Promise<Stage> {
  let broker = await aedesBroker(0);
  const { address } = broker;
  const port = Number(new URL(address).port);
  const cable = await layCable(port);
  return {
    cable,
    url: address,
    login: LOGIN,
    loseMemory: async () => {
      await broker.close();
      broker = await aedesBroker(port);
    },
    close: async () => {
      await cable.close();
      await broker.close();
    },
  };
}

export async function mosquittoStage(): Promise<Stage> {
  const broker = await createMosquitto();
  const cable = await layCable(broker.port);
  return {
    cable,
    url: `mqtt://127.0.0.1:${broker.port}`,
    login: LOGIN,
    loseMemory: async () => {
      await broker.forget();
      await broker.start();
    },
    close: async () => {
      await cable.close();
      await broker.close();
    },
  };
}
