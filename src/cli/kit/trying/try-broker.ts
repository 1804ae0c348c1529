import { randomUUID } from 'node:crypto';
import { connectAsync, type MqttClient } from 'mqtt';
import type { FarmConfig } from '../../../../shared/config/farm.js';
import type { MessagingConfig } from '../../../../shared/config/messaging.js';
import { channels } from '../../../../shared/wire/channels.js';
import { farmTopics } from '../../../../shared/wire/topics.js';
import { readBrokerFiles } from '../../../messaging/wire/broker-files.js';
import { linkTrouble } from '../../../messaging/wire/link-trouble.js';
import { errorText, MessagingError } from '../../../messaging/wire/messaging-error.js';
import { type Tried, tryListen } from '../../config/tried.js';

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

/** What would ring somebody's phone is not tried here: `drybell call --test` is for that. */
const { call, testCall } = farmTopics('{farm}');
const RINGS: readonly string[] = [call, testCall];
/** As many topics are named; of more, how many. */
const MOST_NAMED = 4;

/**
 * Says nothing at every topic of the farm, to nobody's name, and hears what comes back.
 * @returns topics, as the contract writes them, that the broker refuses or does not hand on
 */
async function refusedTopics(
  client: MqttClient,
  farm: string,
  monitorRuns: boolean,
): Promise<readonly string[]> {
  const nobody = `check-${randomUUID().slice(0, 13)}`;
  const asked = new Map(
    channels
      .filter(({ address }) => !RINGS.includes(address))
      // a monitor that runs would take them for its own, or answer
      .filter(({ address, direction }) => !monitorRuns || (direction === 'told' && address.endsWith('}')))
      .map(({ address }) => {
        const shown = address.replace('{farm}', farm);
        return [shown.replace(/\{\w+\}/g, nobody), shown];
      }),
  );
  const missing = new Set(asked.keys());
  let timer: NodeJS.Timeout | undefined;
  const allCame = new Promise<void>((resolve) => {
    timer = setTimeout(resolve, ECHO_WAIT_MS);
    client.on('message', (topic) => {
      missing.delete(topic);
      if (missing.size === 0) resolve();
    });
  });
  try {
    // a refused subscription or message is one that does not come back
    for (const topic of asked.keys())
      await client
        .subscribeAsync(topic, { qos: 1 })
        .then(() => client.publishAsync(topic, '', { qos: 1 }))
        .catch(() => undefined);
    await allCame;
    return [...missing].map((topic) => asked.get(topic) ?? topic);
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
    const refused = await refusedTopics(client, farm, runningAt !== undefined);
    if (refused.length === 0)
      return {
        what,
        ok: true,
        sentence: `${url} takes this farm's name and password, and hands on what is said at all its topics; drybell call --test tries the calls`,
        path: at,
      };
    const more = refused.length - MOST_NAMED;
    const named = [...refused.slice(0, MOST_NAMED), ...(more > 0 ? [`${more} more`] : [])].join(', ');
    return {
      what,
      ok: false,
      sentence: `${url} takes the login, but does not hand on what is said at ${named}; allow this user to write and read drybell/${farm}/#`,
      path: at,
    };
  } catch (cause) {
    const sentence = cause instanceof MessagingError ? errorText(cause) : linkTrouble(cause, url ?? '');
    return { what, ok: false, sentence, path: at };
  } finally {
    await client?.endAsync(true);
  }
}
