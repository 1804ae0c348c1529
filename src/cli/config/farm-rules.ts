import { MS_PER_MIN } from '../../../shared/base/time-units.js';
import type { FarmConfig } from '../../../shared/config/farm.js';
import { isLoopback } from '../../../shared/config/messaging.js';
import { createRoundCalendar, createUtcOffset } from '../../monitor/time/create-round-calendar.js';
import { createQuietHours } from '../../monitor/time/quiet-hours.js';
import type { Tried } from './tried.js';

const MIN_PER_HOUR = 60;
const DEG_PER_HOUR = 15;
const HOURS_ROUND_THE_EARTH = 24;
/** Western China keeps a clock three hours ahead of its sun; no zone is further off. Half an hour for its edges (judgement). */
const CLOCK_FROM_SUN_H = 3.5;
/** A farm that says UTC and a place is meant to keep the clock of its place; half a zone's width. */
const UTC_FROM_SUN_H = 0.75;
/** Rounds of a fortnight, as far as the calendar looks. */
const MOST_ROUNDS = 14 * 12;

type Rule = (config: FarmConfig, nowMs: number) => Tried | undefined;

const wrong = (what: string, path: readonly PropertyKey[], sentence: string): Tried => ({
  what,
  ok: false,
  sentence,
  path,
});

/** Offset of the farm's clock in a month of this year, hours. */
function offsetH({ timeZone }: FarmConfig, nowMs: number, month: number): number {
  const year = new Date(nowMs).getUTCFullYear();
  return createUtcOffset(timeZone)(Date.UTC(year, month, 1)) / MIN_PER_HOUR;
}

const JANUARY = 0;
const JULY = 6;

/** The clock of a place is never far from its sun, so a wrong sign, a swapped pair or a zone left at UTC shows. */
const placeFitsZone: Rule = (config, nowMs) => {
  const { latitude, longitude, timeZone } = config;
  if (latitude === undefined || longitude === undefined) return undefined;
  const [januaryH, julyH] = [offsetH(config, nowMs, JANUARY), offsetH(config, nowMs, JULY)];
  const sunH = longitude / DEG_PER_HOUR;
  const apart = Math.abs(Math.min(januaryH, julyH) - sunH) % HOURS_ROUND_THE_EARTH;
  const apartH = Math.min(apart, HOURS_ROUND_THE_EARTH - apart);
  const there = `latitude ${latitude}, longitude ${longitude}`;
  if (apartH > (timeZone === 'UTC' ? UTC_FROM_SUN_H : CLOCK_FROM_SUN_H))
    return wrong(
      'place',
      ['longitude'],
      `at ${there} the sun is ${apartH.toFixed(1)} h off the clock of ${timeZone}; is a sign wrong, are the two swapped, or is timeZone another?`,
    );
  const summerNorth = julyH > januaryH;
  if (julyH !== januaryH && summerNorth !== latitude > 0)
    return wrong(
      'place',
      ['latitude'],
      `${timeZone} has its summer time in ${summerNorth ? 'July' : 'January'}, which is winter at latitude ${latitude}; is the sign wrong?`,
    );
  return undefined;
};

const roundsCome: Rule = ({ rounds, timeZone }, nowMs) =>
  createRoundCalendar(rounds, timeZone).after(nowMs, 1).length > 0
    ? undefined
    : wrong(
        'rounds',
        ['rounds'],
        'no weekday has a round, so no notice ever comes; give times such as ["07:00", "18:00"]',
      );

const noticeBeforeItsRound: Rule = ({ rounds, timeZone, notices }, nowMs) => {
  const instants = createRoundCalendar(rounds, timeZone).after(nowMs, MOST_ROUNDS);
  const gapsMin = instants.slice(1).map((atMs, i) => (atMs - (instants[i] ?? 0)) / MS_PER_MIN);
  const shortestMin = Math.min(...gapsMin);
  return notices.leadMin <= shortestMin
    ? undefined
    : wrong(
        'notices',
        ['notices', 'leadMin'],
        `a notice comes ${notices.leadMin} min before its round, but two rounds are only ${shortestMin} min apart, so it comes before the round before; make leadMin shorter`,
      );
};

const quietLeavesRounds: Rule = ({ rounds, timeZone, notices }, nowMs) => {
  const quietUntil = createQuietHours(notices.quietHours, timeZone);
  const instants = createRoundCalendar(rounds, timeZone).after(nowMs, MOST_ROUNDS);
  return instants.length === 0 || instants.some((atMs) => quietUntil(atMs) === undefined)
    ? undefined
    : wrong(
        'quiet hours',
        ['notices', 'quietHours'],
        'every round lies in the quiet hours, when nothing is said that can wait; move one or the other',
      );
};

const pageHasWord: Rule = ({ page }) =>
  isLoopback(page.listenHost) || page.accessWord !== undefined
    ? undefined
    : wrong(
        'page',
        ['page', 'listenHost'],
        `on ${page.listenHost} everybody on the network can look and give commands: add "accessWord", or listen on 127.0.0.1`,
      );

/** Networks of one's own: RFC 1918, RFC 4193, link-local, names without a dot and those of home networks. */
function isOwnNetwork(host: string): boolean {
  return (
    isLoopback(host) ||
    /^(10|192\.168|169\.254|172\.(1[6-9]|2\d|3[01]))\./.test(host) ||
    /^\[?(f[cd]|fe[89ab])/i.test(host) ||
    !/[.:]/.test(host) ||
    /\.(local|lan|home\.arpa|internal)$/i.test(host)
  );
}

const brokerIsShut: Rule = ({ messaging, farm }) => {
  const { url, user, certFile } = messaging;
  if (url === undefined) return undefined;
  const { protocol, hostname } = new URL(url);
  const at = ['messaging', 'url'];
  if (user === undefined && certFile === undefined && !isLoopback(hostname))
    return wrong(
      'broker',
      at,
      `${url} is used without user and password, so whoever reaches it can give commands to ${farm}: give the broker a user for this farm, and write it here`,
    );
  if (['mqtt:', 'ws:'].includes(protocol) && !isOwnNetwork(hostname))
    return wrong(
      'broker',
      at,
      `what is said, and the password, goes to ${hostname} in clear text; use ${protocol === 'ws:' ? 'wss' : 'mqtts'}:// (often port 8883)`,
    );
  return undefined;
};

/** Nothing in a datagram says who sent it. */
const datagramsFromAnybody: Rule = ({ probes }) => {
  const index = probes.findIndex(
    ({ hookup }) =>
      hookup?.part === 'delivered' && hookup.udpPort !== undefined && !isLoopback(hookup.udpHost),
  );
  const probe = probes[index];
  return probe === undefined
    ? undefined
    : {
        what: `probe ${probe.id}`,
        ok: true,
        better: true,
        path: ['probes', index, 'hookup'],
        sentence:
          'whoever reaches its UDP port can send readings, and call people or keep them away: only in a network of your own; a topic at a broker with a password knows who sends',
      };
};

const RULES: readonly Rule[] = [
  placeFitsZone,
  roundsCome,
  noticeBeforeItsRound,
  quietLeavesRounds,
  pageHasWord,
  brokerIsShut,
  datagramsFromAnybody,
];

/** What in a configuration that fits would go wrong all the same, before anything is tried. */
export function farmFindings(config: FarmConfig, nowMs: number): readonly Tried[] {
  return RULES.flatMap((rule) => rule(config, nowMs) ?? []);
}
