import type { Duplex } from 'node:stream';
import { Aedes, type AuthenticateError, type Client } from 'aedes';
import type { LoginRight } from '../../../shared/config/messaging.js';
import { WrongTries } from '../../host/doors/wrong-tries.js';
import {
  type AccessRules,
  BrokerLogins,
  isCommandTopic,
  mayHear,
  mayPublish,
  monitorClientId,
} from '../wire/broker-access.js';
import type { MessagingLog } from '../wire/messaging-log.js';
import type { BrokerMemory } from './broker-memory.js';
import { keepInOrder } from './broker-order.js';
import { BrokerDoor } from './door/broker-door.js';
import { Lanes } from './door/lanes.js';

/** MQTT 3.1.1 §3.2.2.3: return codes of CONNACK. */
const SERVER_UNAVAILABLE = 3;
const BAD_USER_OR_PASSWORD = 4;
/** MQTT 3.1.1 §3.1.2.2: level 4; the broker refuses newer ones with return code 1. */
const NEWEST_LEVEL = 4;
const MOST_REMEMBERED = 100;
const CONNECT_TIMEOUT_MS = 10_000;

/** Says once for each client that it must be told to speak MQTT 3.1.1; its owner sees "unacceptable protocol version" at best. */
function noteLevel(log: MessagingLog): (client: string, level: number | undefined) => void {
  const noted = new Set<string>();
  return (client, level = NEWEST_LEVEL) => {
    if (level <= NEWEST_LEVEL || noted.has(client) || noted.size >= MOST_REMEMBERED) return;
    noted.add(client);
    log.warn({ client, advice: 'set MQTT 3.1.1 in that app' }, 'broker-mqtt-5-refused');
  };
}

function refusal(message: string, returnCode: number): AuthenticateError {
  return Object.assign(new Error(message), { returnCode }) as unknown as AuthenticateError;
}

export interface AedesParts {
  readonly rules: AccessRules;
  readonly memory: BrokerMemory;
  /** Connections of the monitor itself: no password, no limits. */
  readonly inside: WeakSet<Duplex>;
  readonly monotonicMs: () => number;
  readonly log: MessagingLog;
}

/** aedes with our rules at its door. */
export interface OpenedAedes {
  readonly broker: Aedes;
  /** Lets nobody pass any more. */
  stop(): void;
}

/** Opens the broker: who may come in, what each may say and hear, and how fast. */
export async function openAedes({
  rules,
  memory,
  inside,
  monotonicMs,
  log,
}: AedesParts): Promise<OpenedAedes> {
  const note = noteLevel(log);
  const tries = new WrongTries(monotonicMs);
  const logins = new BrokerLogins(rules.logins);
  const lanes = new Lanes(monotonicMs);
  const rights = new WeakMap<Client, LoginRight>();
  const isInside = (client: Client) => inside.has(client.conn);
  const sourceOf = (client: Client) => (client.conn instanceof BrokerDoor ? client.conn.source : '');
  const mayOf = (client: Client): LoginRight => rights.get(client) ?? 'listen';

  const broker = await Aedes.createBroker({
    ...(memory.persistence === undefined ? {} : { persistence: memory.persistence }),
    // no limit to what is on its way: a reader that stands still would use it up and hold back everybody
    concurrency: 0,
    connectTimeout: CONNECT_TIMEOUT_MS,
    preConnect: (client, packet, done) => {
      note(packet.clientId, packet.protocolVersion);
      const taken = packet.clientId === monitorClientId(rules.farm) && !isInside(client);
      if (taken) log.warn({ client: packet.clientId }, 'broker-client-id-refused');
      done(taken ? new Error(`the client id "${packet.clientId}" is the monitor's`) : null, !taken);
    },
    authenticate: (client, user, password, done) => {
      if (isInside(client)) return done(null, true);
      const source = sourceOf(client);
      const waitMs = tries.waitMs(source);
      if (waitMs > 0) return done(refusal('too many wrong passwords', SERVER_UNAVAILABLE), false);
      void logins.look(user, password?.toString()).then((outcome) => {
        if (outcome === 'busy') return done(refusal('too many logins at once', SERVER_UNAVAILABLE), false);
        if (outcome !== 'wrong') {
          rights.set(client, outcome);
          tries.right(source);
          return done(null, true);
        }
        tries.wrong(source);
        const waitS = Math.ceil(tries.waitMs(source) / 1000);
        log.warn({ user: user ?? '', from: source, waitS }, 'broker-login-refused');
        return done(refusal('wrong user or password', BAD_USER_OR_PASSWORD), false);
      });
    },
    authorizePublish: (client, packet, done) => {
      if (client === null || isInside(client)) return done();
      const { topic, payload } = packet;
      if (!mayPublish(rules, mayOf(client), topic)) {
        log.warn({ client: client.id, topic }, 'broker-publish-refused');
        return done(new Error(`this client may not publish at ${topic}`));
      }
      // the last will of one that has gone
      if (client.closed) return done();
      return lanes.publish(sourceOf(client), payload.length, isCommandTopic(rules.farm, topic), () => done());
    },
    authorizeSubscribe: (client, subscription, done) => {
      if (isInside(client)) return done(null, subscription);
      return lanes.subscribe(sourceOf(client), () => done(null, subscription));
    },
    authorizeForward: (client, packet) =>
      isInside(client) || mayHear(rules, mayOf(client), packet.topic) ? packet : null,
  });
  keepInOrder(broker);
  broker.on('connackSent', ({ returnCode }, client) => {
    if (returnCode === 0 && client.conn instanceof BrokerDoor) client.conn.admit();
  });
  broker.on('clientError', (client, error) =>
    log.debug({ client: client.id, error: error.message }, 'broker-client-error'),
  );
  broker.on('connectionError', (_client, error) =>
    log.debug({ error: error.message }, 'broker-connection-error'),
  );
  return { broker, stop: () => lanes.stop() };
}
