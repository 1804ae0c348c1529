import { connect, type IClientOptions, type IPublishPacket } from 'mqtt';
import type { MessagingConfig } from '../../shared/config/messaging.js';
import type { Delivery, DeliverySource } from '../monitor/ports/ports.js';
import { backOffMs } from './wire/back-off.js';
import { monitorClientId } from './wire/broker-access.js';
import { readBrokerFiles } from './wire/broker-files.js';
import { Link } from './wire/link.js';
import type { MessagingLog } from './wire/messaging-log.js';

const KEEPALIVE_S = 20;
const CONNECT_TIMEOUT_MS = 10_000;
/** SUBACK return code for a refused subscription, MQTT 3.1.1 §3.9.3. */
const SUBSCRIPTION_REFUSED = 128;

export interface DeliveryOptions {
  readonly farm: string;
  readonly config: MessagingConfig;
  /** As whom it logs in. */
  readonly login: { readonly user?: string | undefined; readonly password?: string | undefined };
  /** Address of the broker, the own one or that of the configuration. */
  readonly address: string;
  readonly nowMs: () => number;
  readonly random: () => number;
  readonly log: MessagingLog;
  /** Told apart from the monitor's own listening, as `drybell probes` runs beside it. */
  readonly asWhom?: string;
}

export interface TopicDeliveries {
  /** Messages of one topic. */
  topic(topic: string): DeliverySource;
  close(): Promise<void>;
}

/**
 * Listens to topics at the broker with a connection of its own, clean: what was sent while it was away has no time on it and
 * would pass for new.
 */
export function openTopicDeliveries(options: DeliveryOptions): TopicDeliveries {
  const { farm, config, login, address, nowMs, random, log } = options;
  const files = readBrokerFiles(config);
  const isOwn = config.url === undefined;
  const ca = isOwn ? files.listenTls?.cert : files.ca;
  const mqtt: IClientOptions = {
    protocolVersion: 4,
    clientId: `${monitorClientId(farm)}-${options.asWhom ?? 'probes'}`,
    clean: true,
    keepalive: KEEPALIVE_S,
    connectTimeout: CONNECT_TIMEOUT_MS,
    reconnectPeriod: 0,
    resubscribe: false,
    ...(login.user === undefined ? {} : { username: login.user }),
    ...(login.password === undefined ? {} : { password: login.password }),
    ...(ca === undefined ? {} : { ca }),
    // the own broker is on this machine and shows the certificate of its public name
    ...(isOwn && ca !== undefined ? { checkServerIdentity: () => undefined } : {}),
    ...(files.cert === undefined ? {} : { cert: files.cert }),
    ...(files.key === undefined ? {} : { key: files.key }),
  };
  const listeners = new Map<string, ((delivery: Delivery) => void)[]>();
  const refused = new Set<string>();
  const take = ({ topic, payload, retain }: IPublishPacket): void => {
    const delivery = { text: payload.toString(), arrivedAtMs: nowMs(), retained: retain };
    for (const listener of listeners.get(topic) ?? []) listener(delivery);
  };
  let link: Link | undefined;
  const start = (): Link =>
    new Link({
      open: () => connect(address, mqtt),
      address,
      delays: () => backOffMs(random),
      monotonicMs: () => performance.now(),
      onUp: (client) => {
        client.subscribe([...listeners.keys()], { qos: 1 }, (_error, grants) => {
          refused.clear();
          for (const { topic, qos } of grants ?? [])
            if (Number(qos) >= SUBSCRIPTION_REFUSED) refused.add(topic);
        });
      },
      onDown: () => undefined,
      onMessage: (packet, done) => {
        take(packet);
        done();
      },
      log,
    });
  return {
    topic: (topic) => ({
      onDelivery: (listener) => {
        listeners.set(topic, [...(listeners.get(topic) ?? []), listener]);
        // all topics are known within this turn of the event loop: one connection serves them
        setImmediate(() => {
          link ??= start();
        });
      },
      trouble: () =>
        link?.trouble ??
        (refused.has(topic)
          ? `the broker ${address} refuses topic ${topic}; allow this user to read it`
          : undefined),
      close: async () => undefined,
    }),
    close: async () => {
      await new Promise((resolve) => setImmediate(resolve));
      await link?.close();
    },
  };
}
