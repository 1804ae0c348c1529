import { createServer as createHttpServer, type IncomingMessage } from 'node:http';
import { createServer as createHttpsServer } from 'node:https';
import { createServer as createTcpServer, type Server, type Socket } from 'node:net';
import type { Duplex } from 'node:stream';
import { createServer as createTlsServer } from 'node:tls';
import type { Aedes } from 'aedes';
import { createWebSocketStream, WebSocketServer } from 'ws';
import { isLoopback } from '../../../shared/config/messaging.js';
import { sourceOf } from '../../host/doors/source-of.js';
import type { Said } from '../outbox/drain.js';
import type { AccessRules } from '../wire/broker-access.js';
import { errorText, MessagingError } from '../wire/messaging-error.js';
import type { MessagingLog } from '../wire/messaging-log.js';
import { listenAt, reachableHost } from './broker-listen.js';
import { openBrokerMemory } from './broker-memory.js';
import { BrokerDoor } from './door/broker-door.js';
import { Newcomers } from './door/newcomers.js';
import { COUNT_EVERY_MS, KEPT_DAYS, type OldSessions } from './old-sessions.js';
import { openAedes } from './open-aedes.js';
import { streamPair } from './stream-pair.js';

/** Frames of the WebSocket are as large as a packet at most, and a little (broker-door). */
const MOST_FRAME_BYTES = 300_000;
const TLS_PATIENCE_MS = 10_000;

export interface EmbeddedBrokerOptions extends AccessRules {
  readonly host: string;
  readonly port: number;
  readonly webSocketPort?: number | undefined;
  readonly tls?: { readonly cert: Buffer; readonly key: Buffer } | undefined;
  /** Folder for sessions and retained messages; absent: they are forgotten at the end. */
  readonly folder?: string | undefined;
  /** Elapsed time, for who has to wait. */
  readonly monotonicMs?: (() => number) | undefined;
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

function sayer(broker: Aedes): (message: Said) => Promise<void> {
  return ({ topic, payload, retain }) =>
    new Promise((resolve, reject) => {
      broker.publish(
        { cmd: 'publish', topic, payload: Buffer.from(payload), qos: 1, retain, dup: false },
        (error) => (error === undefined || error === null ? resolve() : reject(error)),
      );
    });
}

type Come = (connection: Duplex, from: string | undefined, request?: IncomingMessage) => void;

function webSocketServer(come: Come, tls: EmbeddedBrokerOptions['tls']): Server {
  const http = tls === undefined ? createHttpServer() : createHttpsServer(tls);
  const sockets = new WebSocketServer({
    server: http,
    maxPayload: MOST_FRAME_BYTES,
    handleProtocols: (names) => names.has('mqtt') && 'mqtt',
  });
  sockets.on('connection', (socket, request) => {
    request.socket.setNoDelay(true);
    come(createWebSocketStream(socket), request.socket.remoteAddress, request);
  });
  sockets.on('error', () => sockets.close());
  return http;
}

/** Name of the client behind a door, once it has said one. */
function clientOf(door: BrokerDoor): string | undefined {
  return (door as { readonly client?: { readonly id?: string | null } }).client?.id ?? undefined;
}

/** Counts absences and forgets old sessions, one after the other, until it is stopped. */
function keepSessions(
  broker: Aedes,
  sessions: OldSessions | undefined,
  log: MessagingLog,
): () => Promise<void> {
  if (sessions === undefined) return () => Promise.resolve();
  let work = Promise.resolve();
  const then = (step: () => Promise<void>) => {
    work = work
      .then(step)
      .catch((cause: unknown) => log.warn({ error: errorText(cause) }, 'broker-sessions-not-counted'));
  };
  const clients = (broker as unknown as { readonly clients: Readonly<Record<string, unknown>> }).clients;
  broker.on('client', ({ id }) => then(() => sessions.cameBack(id)));
  const count = async () => {
    for (const client of await sessions.count((id) => id in clients))
      log.info({ client, days: KEPT_DAYS }, 'broker-session-forgotten');
  };
  const timer = setInterval(() => then(count), COUNT_EVERY_MS);
  return () => {
    clearInterval(timer);
    return work;
  };
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
  if (!isLoopback(options.host) && (options.logins ?? []).length === 0)
    throw new MessagingError(
      'open-to-everyone',
      `The MQTT broker does not listen on ${options.host} without user and password: set messaging.user and messaging.password, or listen on 127.0.0.1`,
    );
  const { tls, log } = options;
  const memory = await openBrokerMemory(options.folder, options.wallNowMs?.() ?? Date.now(), {
    lost: (cause) => log.warn({ error: errorText(cause) }, 'broker-keeps-in-memory'),
    found: () => log.info({}, 'broker-keeps-again'),
  });
  const inside = new WeakSet<Duplex>();
  const { broker, stop } = await openAedes({
    rules: options,
    memory,
    inside,
    monotonicMs: options.monotonicMs ?? (() => performance.now()),
    log,
  });
  const stopCounting = keepSessions(broker, memory.oldSessions, log);
  const newcomers = new Newcomers();
  const come: Come = (connection, from, request) => {
    const source = sourceOf(from);
    const door = new BrokerDoor(connection, source, (why) =>
      log.warn({ client: clientOf(door), from: source, why }, 'broker-shown-out'),
    );
    newcomers.enter(door);
    broker.handle(door, request);
  };
  const take = (socket: Socket) => come(socket, socket.remoteAddress);
  const tcp =
    tls === undefined
      ? createTcpServer({ noDelay: true }, take)
      : createTlsServer({ ...tls, noDelay: true, handshakeTimeout: TLS_PATIENCE_MS }, take);
  const servers: Server[] = [];
  const close = async () => {
    stop();
    await stopCounting();
    const closing = servers.map(closeServer);
    await new Promise<void>((resolve) => broker.close(() => resolve()));
    await Promise.all(closing);
    await memory.close();
  };
  try {
    const port = await listenAt(tcp, options.host, options.port, 'listenPort');
    servers.push(tcp);
    const host = reachableHost(options.host);
    const hostInUrl = host.includes(':') ? `[${host}]` : host;
    const s = tls === undefined ? '' : 's';
    let webSocketAddress: string | undefined;
    if (options.webSocketPort !== undefined) {
      const web = webSocketServer(come, tls);
      const webPort = await listenAt(web, options.host, options.webSocketPort, 'listenWebSocketPort');
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
