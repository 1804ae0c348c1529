import { createServer as createHttpServer } from 'node:http';
import { createServer as createHttpsServer } from 'node:https';
import { type AddressInfo, createServer as createTcpServer, type Server } from 'node:net';
import { networkInterfaces } from 'node:os';
import type { Duplex } from 'node:stream';
import { createServer as createTlsServer } from 'node:tls';
import { Aedes, type AuthenticateError } from 'aedes';
import { createWebSocketStream, WebSocketServer } from 'ws';
import { isLoopback } from '../../shared/config/messaging.js';
import { type AccessRules, mayConnect, mayPublish, monitorClientId } from './broker-access.js';
import { type BrokerMemory, openBrokerMemory } from './broker-memory.js';
import { keepInOrder } from './broker-order.js';
import type { Said } from './drain.js';
import { errorCode, errorText, MessagingError } from './messaging-error.js';
import type { MessagingLog } from './messaging-log.js';
import { streamPair } from './stream-pair.js';

/** MQTT 3.1.1 §3.2.2.3, return code 4: bad user name or password. */
const BAD_USER_OR_PASSWORD = 4;

export interface EmbeddedBrokerOptions extends AccessRules {
  readonly host: string;
  readonly port: number;
  readonly webSocketPort?: number | undefined;
  readonly tls?: { readonly cert: Buffer; readonly key: Buffer } | undefined;
  /** Folder for sessions and retained messages; absent: they are forgotten at the end. */
  readonly folder?: string | undefined;
  /** Dates what is set aside. */
  readonly wallNowMs?: (() => number) | undefined;
  readonly log: MessagingLog;
}

/** The monitor's own broker. */
export interface EmbeddedBroker {
  /** What other MQTT clients connect to. */
  readonly address: string;
  readonly webSocketAddress: string | undefined;
  /** What of its memory could not be read when it was opened, and what became of it. */
  readonly trouble?: string | undefined;
  /** A connection from inside the process; it needs no password and may say everything. */
  connectInside(): Duplex;
  /**
   * Says one message as the monitor, QoS 1. Resolves when it is kept for sessions and as retained, and written to whoever listens
   * now; rejects when it can't be kept. (aedes acknowledges a packet that comes over a connection before it has kept it.)
   */
  say(message: Said): Promise<void>;
  close(): Promise<void>;
}

function reachableHost(host: string): string {
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

async function listen(server: Server, host: string, port: number, key: string): Promise<number> {
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

/** MQTT 3.1.1 §3.1.2.2: level 4; the broker refuses newer ones with return code 1. */
const NEWEST_LEVEL = 4;
const MOST_REMEMBERED = 100;

/** Says once for each client that it must be told to speak MQTT 3.1.1; its owner sees "unacceptable protocol version" at best. */
function noteLevel(log: MessagingLog): (client: string, level: number | undefined) => void {
  const noted = new Set<string>();
  return (client, level = NEWEST_LEVEL) => {
    if (level <= NEWEST_LEVEL || noted.has(client) || noted.size >= MOST_REMEMBERED) return;
    noted.add(client);
    log.warn({ client, advice: 'set MQTT 3.1.1 in that app' }, 'broker-mqtt-5-refused');
  };
}

async function openAedes(options: EmbeddedBrokerOptions, memory: BrokerMemory, inside: WeakSet<Duplex>) {
  const note = noteLevel(options.log);
  const broker = await Aedes.createBroker({
    ...(memory.persistence === undefined ? {} : { persistence: memory.persistence }),
    preConnect: (client, packet, done) => {
      note(packet.clientId, packet.protocolVersion);
      const taken = packet.clientId === monitorClientId(options.farm) && !inside.has(client.conn);
      if (taken) options.log.warn({ client: packet.clientId }, 'broker-client-id-refused');
      done(taken ? new Error(`the client id "${packet.clientId}" is the monitor's`) : null, !taken);
    },
    authenticate: (client, user, password, done) => {
      if (inside.has(client.conn) || mayConnect(options, user, password?.toString())) return done(null, true);
      options.log.warn({ user: user ?? '' }, 'broker-login-refused');
      const refusal = Object.assign(new Error('wrong user or password'), {
        returnCode: BAD_USER_OR_PASSWORD,
      });
      done(refusal as unknown as AuthenticateError, false);
    },
    authorizePublish: (client, packet, done) => {
      if (client === null || inside.has(client.conn) || mayPublish(options, packet.topic)) return done();
      options.log.warn({ client: client.id, topic: packet.topic }, 'broker-publish-refused');
      done(new Error(`only the monitor publishes at ${packet.topic}`));
    },
  });
  keepInOrder(broker);
  broker.on('clientError', (client, error) =>
    options.log.debug({ client: client.id, error: error.message }, 'broker-client-error'),
  );
  broker.on('connectionError', (_client, error) =>
    options.log.debug({ error: error.message }, 'broker-connection-error'),
  );
  return broker;
}

function sayer(broker: Aedes): (message: Said) => Promise<void> {
  return ({ topic, payload, retain }) =>
    new Promise((resolve, reject) => {
      broker.publish(
        { cmd: 'publish', topic, payload: Buffer.from(payload), qos: 1, retain, dup: false },
        (error) => (error === undefined || error === null ? resolve() : reject(error)),
      );
    });
}

function webSocketServer(broker: Aedes, tls: EmbeddedBrokerOptions['tls']): Server {
  const http = tls === undefined ? createHttpServer() : createHttpsServer(tls);
  const sockets = new WebSocketServer({
    server: http,
    handleProtocols: (names) => names.has('mqtt') && 'mqtt',
  });
  sockets.on('connection', (socket, request) => {
    request.socket.setNoDelay(true);
    broker.handle(createWebSocketStream(socket), request);
  });
  sockets.on('error', () => sockets.close());
  return http;
}

function closeServer(server: Server): Promise<void> {
  return new Promise((resolve) => {
    server.close(() => resolve());
  });
}

/**
 * Starts a broker for MQTT 3.1.1 over TCP (or TLS), and over WebSocket when asked.
 * Rejects with a MessagingError that says what to do; nothing stays open then.
 */
export async function openEmbeddedBroker(options: EmbeddedBrokerOptions): Promise<EmbeddedBroker> {
  if (!isLoopback(options.host) && options.login === undefined)
    throw new MessagingError(
      'open-to-everyone',
      `The MQTT broker does not listen on ${options.host} without user and password: set messaging.user and messaging.password, or listen on 127.0.0.1`,
    );
  const memory = await openBrokerMemory(options.folder, options.wallNowMs?.() ?? Date.now());
  const inside = new WeakSet<Duplex>();
  const broker = await openAedes(options, memory, inside);
  const { tls } = options;
  const tcp =
    tls === undefined
      ? createTcpServer({ noDelay: true }, broker.handle)
      : createTlsServer({ ...tls, noDelay: true }, broker.handle);
  const servers: Server[] = [];
  const close = async () => {
    const closing = servers.map(closeServer);
    await new Promise<void>((resolve) => broker.close(() => resolve()));
    await Promise.all(closing);
    await memory.close();
  };
  try {
    const port = await listen(tcp, options.host, options.port, 'listenPort');
    servers.push(tcp);
    const host = reachableHost(options.host);
    const hostInUrl = host.includes(':') ? `[${host}]` : host;
    const s = tls === undefined ? '' : 's';
    let webSocketAddress: string | undefined;
    if (options.webSocketPort !== undefined) {
      const web = webSocketServer(broker, tls);
      const webPort = await listen(web, options.host, options.webSocketPort, 'listenWebSocketPort');
      servers.push(web);
      webSocketAddress = `ws${s}://${hostInUrl}:${webPort}`;
    }
    return {
      address: `mqtt${s}://${hostInUrl}:${port}`,
      webSocketAddress,
      trouble: memory.trouble,
      connectInside: () => {
        const [ours, brokers] = streamPair();
        inside.add(brokers);
        broker.handle(brokers);
        return ours;
      },
      say: sayer(broker),
      close,
    };
  } catch (cause) {
    await close();
    throw cause;
  }
}
