import { connect, type IClientOptions, type MqttClient } from 'mqtt';

export interface HeardMessage {
  readonly topic: string;
  readonly text: string;
  readonly retain: boolean;
  readonly qos: number;
}

/** A subscriber that remembers everything it hears, as a phone or an integrator would be one. */
export interface Listener {
  readonly heard: readonly HeardMessage[];
  readonly client: MqttClient;
  /** The first message that fits, already heard or still to come. */
  next(fits: (message: HeardMessage) => boolean): Promise<HeardMessage>;
  send(topic: string, text: string | Buffer, retain?: boolean): void;
  close(): Promise<void>;
}

/** Connects, subscribes at QoS 1, and resolves when the broker has granted. */
export async function listener(
  url: string,
  filters: string[],
  options: IClientOptions = {},
): Promise<Listener> {
  const heard: HeardMessage[] = [];
  const waiting: { fits: (message: HeardMessage) => boolean; tell: (message: HeardMessage) => void }[] = [];
  const client = connect(url, { reconnectPeriod: 50, ...options });
  client.on('message', (topic, payload, packet) => {
    const message = { topic, text: payload.toString(), retain: packet.retain, qos: packet.qos };
    heard.push(message);
    for (const wish of waiting.filter((one) => one.fits(message))) {
      waiting.splice(waiting.indexOf(wish), 1);
      wish.tell(message);
    }
  });
  await new Promise<void>((resolve, reject) => {
    client.once('connect', () => resolve());
    client.once('error', reject);
    if (options.reconnectPeriod === 0)
      client.once('close', () => reject(new Error('hung up before it was connected')));
  });
  if (filters.length > 0) await client.subscribeAsync(filters, { qos: 1 });
  return {
    heard,
    client,
    next: (fits) => {
      const already = heard.find(fits);
      if (already !== undefined) return Promise.resolve(already);
      return new Promise((tell) => waiting.push({ fits, tell }));
    },
    send: (topic, text, retain = false) => client.publish(topic, text, { qos: 1, retain }),
    close: () => client.endAsync(true),
  };
}
