import { connect } from 'mqtt';
import { asksForHelp } from '../../../shared/base/asks-for-help.js';
import { toInstant } from '../../../shared/base/ids.js';
import type { FollowedHouse } from '../../../shared/config/page.js';
import type { HousesAnswer, LinkTroubleKind, PageHouse } from '../../../shared/page/page-houses.js';
import { type ReachOptions, reachClientOptions } from '../wire/client-options.js';
import { linkTroubleKind } from '../wire/link-trouble.js';
import { HeardHouse } from './heard-house.js';

/** A broker that is away is tried again this often (judgement). */
const AGAIN_MS = 5_000;

export interface FollowOptions extends Omit<ReachOptions, 'farm' | 'patienceMs'> {
  /** The house that serves the overview. */
  readonly farm: string;
  /** The others. */
  readonly houses: readonly FollowedHouse[];
  readonly nowMs: () => number;
}

export interface HousesFollower {
  answer(): HousesAnswer;
  close(): Promise<void>;
}

/** Those first that want somebody: calls, then a house that nobody watches; each group in the configuration's order. */
function rank({ calls, state }: PageHouse): number {
  if (calls.some(asksForHelp)) return 0;
  return state === 'watching' ? 2 : 1;
}

/** Hears several houses at one broker for as long as it is open: what is retained, and what is said. */
export function followHouses(options: FollowOptions): HousesFollower {
  const { farm, houses, address, nowMs } = options;
  const heard = [{ farm }, ...houses].map((house, index) => new HeardHouse(house, index === 0));
  const byRoot = new Map(heard.map((house) => [house.topics.root, house]));
  let trouble: LinkTroubleKind | undefined = linkTroubleKind(undefined);
  const client = connect(address, {
    ...reachClientOptions(options),
    reconnectPeriod: AGAIN_MS,
    resubscribe: false,
  });
  client.on('connect', () => {
    trouble = undefined;
    client.subscribe(
      heard.flatMap(({ filters }) => [...filters]),
      { qos: 1 },
    );
  });
  client.on('message', (topic, payload, { retain }) => {
    const root = topic.split('/', 2).join('/');
    byRoot.get(root)?.take(topic, payload.toString(), retain, nowMs());
  });
  client.on('error', (error) => {
    trouble = linkTroubleKind(error);
  });
  client.on('close', () => {
    trouble ??= linkTroubleKind(undefined);
  });
  return {
    answer: () => {
      const atMs = nowMs();
      return {
        at: toInstant(atMs),
        ...(trouble === undefined ? {} : { brokerAway: trouble }),
        houses: heard.map((house) => house.picture(atMs)).sort((a, b) => rank(a) - rank(b)),
      };
    },
    close: () => client.endAsync(true),
  };
}
