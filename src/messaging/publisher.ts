import { randomUUID } from 'node:crypto';
import { join } from 'node:path';
import { connect, type IClientOptions, MqttClient } from 'mqtt';
import { toInstant } from '../../shared/base/ids.js';
import type { Language } from '../../shared/base/language.js';
import type { MessagingConfig } from '../../shared/config/messaging.js';
import { type UnitsConfig, unitsSchema } from '../../shared/config/notices.js';
import type { Status } from '../../shared/facts/status.js';
import { farmTopics } from '../../shared/wire/topics.js';
import type { Publisher } from '../monitor/ports/ports.js';
import type { FarmSpeech } from '../watering/sentences/speech.js';
import { createSpeech } from '../watering/sentences/speech.js';
import { type EmbeddedBroker, openEmbeddedBroker } from './embedded/embedded-broker.js';
import { KeptPhones, type Shelf } from './gateways/push/kept-phones.js';
import type { PushSender } from './gateways/push/phone-gateway.js';
import { PushService } from './gateways/push/push-service.js';
import { OUTBOX_FILE, openMessagingFile } from './outbox/messaging-file.js';
import { Telling } from './telling/telling.js';
import { backOffMs } from './wire/back-off.js';
import { monitorClientId } from './wire/broker-access.js';
import { type BrokerFiles, readBrokerFiles, readPushAuthority } from './wire/broker-files.js';
import { makeHouseLogin } from './wire/house-login.js';
import type { MessagingLog } from './wire/messaging-log.js';

const KEEPALIVE_S = 20;
const CONNECT_TIMEOUT_MS = 10_000;
/** The own broker answers within milliseconds; on a busy machine a little later. */
const OWN_BROKER_PATIENCE_MS = 2_000;

export interface PublisherOptions {
  readonly farm: string;
  readonly config: MessagingConfig;
  readonly drive: NonNullable<Status['drive']>;
  readonly timeZone: string;
  /** For sentences that are said anew; mL, degC and mm when absent. */
  readonly units?: UnitsConfig;
  /** English when absent. */
  readonly language?: Language;
  /** Topics that probes are read from: at the own broker not everybody may publish there. */
  readonly readingTopics?: readonly string[] | undefined;
  /** Folder for the outbox and the own broker's sessions; absent: everything stays in memory (demo). */
  readonly dataFolder?: string | undefined;
  /** Farm clock, epoch ms; in the demo it runs fast. */
  readonly nowMs: () => number;
  readonly log: MessagingLog;
  /** Where keys and phones of push are kept; absent: in memory. */
  readonly shelf?: Shelf | undefined;
  /** A dead link is noticed after one and a half times this; the broker tells the last will then. */
  readonly keepaliveS?: number;
  /** How long a message may take to come back from a broker elsewhere before its rules are blamed. */
  readonly echoPatienceMs?: number;
  readonly wallNowMs?: () => number;
  readonly random?: () => number;
}

function clientOptions(options: PublisherOptions, files: BrokerFiles, { say }: FarmSpeech): IClientOptions {
  const { config, farm } = options;
  const gone: Status = {
    online: false,
    sentence: say.house.goneWithoutWord(),
  };
  return {
    protocolVersion: 4,
    clientId: monitorClientId(farm),
    clean: false,
    keepalive: options.keepaliveS ?? KEEPALIVE_S,
    connectTimeout: CONNECT_TIMEOUT_MS,
    reconnectPeriod: 0,
    queueQoSZero: false,
    resubscribe: false,
    will: {
      topic: farmTopics(farm).status,
      payload: Buffer.from(JSON.stringify(gone)),
      qos: 1,
      retain: true,
    },
    ...(config.user === undefined ? {} : { username: config.user }),
    ...(config.password === undefined ? {} : { password: config.password }),
    ...(files.ca === undefined ? {} : { ca: files.ca }),
    ...(files.cert === undefined ? {} : { cert: files.cert }),
    ...(files.key === undefined ? {} : { key: files.key }),
  };
}

function openOwnBroker(options: PublisherOptions, files: BrokerFiles): Promise<EmbeddedBroker> {
  const { config, farm, dataFolder, log } = options;
  const { user, password } = config;
  const house = makeHouseLogin(config, dataFolder);
  return openEmbeddedBroker({
    farm,
    host: config.listenHost,
    port: config.listenPort,
    webSocketPort: config.listenWebSocketPort,
    tls: files.listenTls,
    logins: [
      ...(house === undefined ? [] : [house]),
      ...(user === undefined || password === undefined ? [] : [{ user, password, may: 'command' as const }]),
      ...config.logins,
    ],
    readingTopics: options.readingTopics,
    folder: dataFolder === undefined ? undefined : join(dataFolder, 'broker'),
    wallNowMs: options.wallNowMs,
    log,
  });
}

/** Reaches nobody (RFC 2606 §2), where the configuration names no contact. */
const NO_CONTACT = 'mailto:nobody@drybell.invalid';

function pushSender(config: MessagingConfig, { keys }: KeptPhones): PushSender {
  const { contact, privateHosts } = config.push;
  const service = new PushService({ privateHosts, ca: readPushAuthority(config) });
  return { keys, contact: contact ?? NO_CONTACT, service };
}

/**
 * The house's voice: an own broker or an external one, a durable outbox in front of it, commands in.
 * Rejects with a MessagingError when something that waiting cannot mend is wrong (port taken, file unreadable); a broker
 * that is away is not: it is tried again and again, and `health` says so.
 */
export async function createPublisher(options: PublisherOptions): Promise<Publisher> {
  const files = readBrokerFiles(options.config);
  const { url } = options.config;
  const kept = await KeptPhones.open(options.shelf);
  const { dataFolder } = options;
  const wallNowMs = options.wallNowMs ?? Date.now;
  const file = dataFolder === undefined ? undefined : join(dataFolder, OUTBOX_FILE);
  const { database, trouble } = openMessagingFile(file, wallNowMs());
  let broker: EmbeddedBroker | undefined;
  try {
    broker = url === undefined ? await openOwnBroker(options, files) : undefined;
  } catch (cause) {
    database.close();
    throw cause;
  }
  const address = broker?.address ?? url ?? '';
  const speech = createSpeech({
    language: options.language,
    timeZone: options.timeZone,
    units: options.units ?? unitsSchema.parse({}),
  });
  const mqtt = clientOptions(options, files, speech);
  const own = broker;
  const random = options.random ?? Math.random;
  const telling = new Telling({
    farm: options.farm,
    speech,
    address,
    database,
    open:
      own === undefined
        ? () => connect(address, mqtt)
        : () => new MqttClient(() => own.connectInside(), mqtt),
    sayInside: own?.say,
    delays: () => backOffMs(random),
    nowMs: options.nowMs,
    wallNowMs,
    newId: randomUUID,
    log: options.log,
    webhooks: options.config.webhooks,
    push: { kept, sender: pushSender(options.config, kept), language: options.language ?? 'en' },
    echoPatienceMs: options.echoPatienceMs,
    firstStatus: {
      online: true,
      at: toInstant(options.nowMs()),
      drive: options.drive,
      timeZone: options.timeZone,
      ...(options.units === undefined ? {} : { units: options.units }),
    },
  });
  if (own !== undefined) await telling.connected(OWN_BROKER_PATIENCE_MS);
  return {
    tell: (facts, turn) => telling.tell(facts, turn),
    onCommand: (listener) => telling.onCommand(listener),
    health: () => telling.health(),
    phones: telling.phones,
    troubles: () => [trouble, broker?.trouble, kept.trouble].filter((one) => one !== undefined),
    address: () => address,
    close: async () => {
      await telling.close();
      await broker?.close();
      database.close();
    },
  };
}
