import type { HookupOf } from '../../../shared/config/kit/hookup.js';
import type { ProbeConfig } from '../../../shared/config/kit/probes.js';
import type { Clock, DeliverySource, NodeNews, ProbeReader } from '../../monitor/ports/ports.js';
import { Mailbox } from './mailbox.js';

export type DeliveredProbe = ProbeConfig & { readonly hookup: HookupOf<'delivered'> };

export function isDeliveredProbe(probe: ProbeConfig): probe is DeliveredProbe {
  return probe.hookup?.part === 'delivered';
}

/** Where a probe's messages come in. */
export type Way =
  | { readonly kind: 'topic'; readonly topic: string }
  | { readonly kind: 'serial'; readonly port: string; readonly baud: number }
  | { readonly kind: 'udp'; readonly host: string; readonly port: number };

export function wayOf({ topic, serialPort, baud, udpPort, udpHost }: HookupOf<'delivered'>): Way {
  if (topic !== undefined) return { kind: 'topic', topic };
  if (serialPort !== undefined) return { kind: 'serial', port: serialPort, baud };
  if (udpPort !== undefined) return { kind: 'udp', host: udpHost, port: udpPort };
  throw new RangeError('a delivered probe has one of topic, serialPort and udpPort');
}

/** Topics from which these probes are read. */
export function deliveredTopics(probes: readonly ProbeConfig[]): readonly string[] {
  return probes.filter(isDeliveredProbe).flatMap(({ hookup }) => hookup.topic ?? []);
}

function wayWords(way: Way): string {
  switch (way.kind) {
    case 'topic':
      return `topic ${way.topic}`;
    case 'serial':
      return way.port;
    case 'udp':
      return `UDP port ${way.port}`;
  }
}

export interface DeliveredOptions {
  /** All probes of the farm; those that are not delivered are left to others. */
  readonly probes: readonly ProbeConfig[];
  readonly clock: Clock;
  /** Opens a way; probes that share one share its source. */
  readonly open: (way: Way) => DeliverySource;
}

export type DeliveredReader = Required<Pick<ProbeReader, 'sample' | 'news' | 'close'>>;

/** Reads the probes that are delivered: what came since the last sample, each once. */
export function createDeliveredReader({ probes, clock, open }: DeliveredOptions): DeliveredReader {
  const sources = new Map<string, DeliverySource>();
  const boxes = probes.filter(isDeliveredProbe).map(({ id, hookup }) => {
    const way = wayOf(hookup);
    const name = wayWords(way);
    const source = sources.get(name) ?? open(way);
    sources.set(name, source);
    const mailbox = new Mailbox(id, hookup, name, clock.nowMs());
    source.onDelivery((delivery) => mailbox.take(delivery));
    return { id, mailbox, source };
  });
  let sampledAtMs = Number.NEGATIVE_INFINITY;
  return {
    async sample(signal) {
      signal.throwIfAborted();
      const nowMs = clock.nowMs();
      const earliestMs = sampledAtMs;
      sampledAtMs = nowMs;
      // the house's time does not run backwards: what came late counts from the last sample on
      return boxes.flatMap(({ mailbox, source }) =>
        mailbox
          .empty(nowMs, source.trouble())
          .map((sample) => ({ ...sample, observedAtMs: Math.max(sample.observedAtMs, earliestMs) })),
      );
    },
    news: () =>
      new Map<string, NodeNews>(
        boxes.flatMap(({ id, mailbox }) => (mailbox.news === undefined ? [] : [[id, mailbox.news] as const])),
      ),
    async close() {
      await Promise.all([...sources.values()].map((source) => source.close()));
    },
  };
}

/** Boards' probes and delivered ones as one reader. */
export function withDelivered<R extends ProbeReader>(boards: R, delivered: DeliveredReader): R {
  return {
    ...boards,
    sample: async (signal: AbortSignal) =>
      (await Promise.all([boards.sample(signal), delivered.sample(signal)])).flat(),
    news: () => delivered.news(),
    close: async () => {
      await Promise.all([boards.close(), delivered.close()]);
    },
  };
}
