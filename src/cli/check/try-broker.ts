import { randomUUID } from 'node:crypto';
import { connectAsync, type MqttClient } from 'mqtt';
import type { FarmConfig } from '../../../shared/config/farm.js';
import type { MessagingConfig } from '../../../shared/config/messaging.js';
import { farmTopics } from '../../../shared/topics.js';
import { readBrokerFiles } from '../../messaging/broker-files.js';
import { linkTrouble } from '../../messaging/link-trouble.js';
import { errorText, MessagingError } from '../../messaging/messaging-error.js';
import { type Tried, tryListen } from './tried.js';

const BROKER_WAIT_MS = 5000;
const ECHO_WAIT_MS = 3000;

function connectLike(farm: string, { url = '', ...messaging }: MessagingConfig): Promise<MqttClient> {
  const { ca, cert, key } = readBrokerFiles(messaging);
  return connectAsync(
    url,
    {
      // not the monitor's own: that would push it out
      clientId: `drybell-check-${farm}-${process.pid}`,
      connectTimeout: BROKER_WAIT_MS,
      reconnectPeriod: 0,
      ...(messaging.user === undefined
        ? {}
        : { username: messaging.user, password: messaging.password ?? '' }),
      ...(ca === undefined ? {} : { ca }),
      ...(cert === undefined ? {} : { cert }),
      ...(key === undefined ? {} : { key }),
    },
    false,
  );
}

/** Says something where answers are said, which nobody waits for, and hears whether it comes back. */
async function comesBack(client: MqttClient, farm: string): Promise<boolean> {
  const topic = farmTopics(farm).reply(`check-${randomUUID().slice(0, 13)}`);
  let timer: NodeJS.Timeout | undefined;
  const heard = new Promise<boolean>((resolve) => {
    timer = setTimeout(() => resolve(false), ECHO_WAIT_MS);
    client.on('message', (heardTopic) => {
      if (heardTopic === topic) resolve(true);
    });
  });
  try {
    await client.subscribeAsync(topic, { qos: 1 });
    await client.publishAsync(topic, '', { qos: 1 });
    return await heard;
  } finally {
    clearTimeout(timer);
  }
}

/**
 * Is the own broker's port free; does a broker elsewhere take us, and hand on what we say?
 * @param runningAt where this farm's running monitor was found, if it was
 */
export async function tryBroker({ messaging, farm }: FarmConfig, runningAt?: string): Promise<Tried> {
  const { url, listenHost, listenPort } = messaging;
  const what = 'broker';
  const at = ['messaging', url === undefined ? 'listenPort' : 'url'];
  let client: MqttClient | undefined;
  try {
    if (url === undefined) {
      if (runningAt !== undefined)
        return { what, ok: true, sentence: `the running monitor's own answers at ${runningAt}`, path: at };
      readBrokerFiles(messaging);
      return await tryListen(what, listenHost, listenPort, ['messaging', 'listenPort']);
    }
    client = await connectLike(farm, messaging);
    if (await comesBack(client, farm))
      return {
        what,
        ok: true,
        sentence: `${url} takes this farm's name and password, and hands on what is said`,
        path: at,
      };
    const rule = `allow this user to write and read drybell/${farm}/#`;
    return {
      what,
      ok: false,
      sentence: `${url} takes the login, but does not hand on what is said at ${farmTopics(farm).reply('+')}; ${rule}`,
      path: at,
    };
  } catch (cause) {
    const sentence = cause instanceof MessagingError ? errorText(cause) : linkTrouble(cause, url ?? '');
    return { what, ok: false, sentence, path: at };
  } finally {
    await client?.endAsync(true);
  }
}
