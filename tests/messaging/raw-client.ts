import { once } from 'node:events';
import { connect, type Socket } from 'node:net';
import mqtt from 'mqtt-packet';

/** A client that keeps to no rules: bytes go out as they are given, and nothing is read unless asked. */
export interface RawClient {
  readonly socket: Socket;
  /** The broker hung up. */
  readonly hungUp: Promise<void>;
  send(packet: mqtt.Packet): void;
}

/** Connects from an address of this machine; says nothing yet. */
export async function rawClient(address: string, from = '127.0.0.1'): Promise<RawClient> {
  const socket = connect({ host: '127.0.0.1', port: Number(new URL(address).port), localAddress: from });
  socket.on('error', () => undefined);
  const hungUp = new Promise<void>((resolve) => socket.once('close', () => resolve()));
  await once(socket, 'connect');
  return { socket, hungUp, send: (packet) => socket.write(mqtt.generate(packet)) };
}

/** The same, logged in. */
export async function rawLogin(address: string, clientId: string, from?: string): Promise<RawClient> {
  const client = await rawClient(address, from);
  client.send({
    cmd: 'connect',
    protocolId: 'MQTT',
    protocolVersion: 4,
    clientId,
    clean: true,
    keepalive: 0,
  });
  await once(client.socket, 'data');
  return client;
}

/** What the broker answers to a login from an address: the return code of MQTT 3.1.1 §3.2.2.3. */
export async function loginCode(
  address: string,
  from: string,
  username: string,
  password: string,
): Promise<number | undefined> {
  const { socket, send } = await rawClient(address, from);
  const login = { username, password: Buffer.from(password) };
  send({
    cmd: 'connect',
    protocolId: 'MQTT',
    protocolVersion: 4,
    clientId: `from-${from}`,
    clean: true,
    keepalive: 0,
    ...login,
  });
  const [connack] = (await once(socket, 'data')) as [Buffer];
  socket.destroy();
  return connack[3];
}
