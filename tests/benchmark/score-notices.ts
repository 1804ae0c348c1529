import type { Fact } from '../../src/monitor/ports/facts.js';
import type { RoundCalendar } from '../../src/watering/desk/round-calendar.js';
import type { BenchHistory } from './bench-history.js';
import type { TruePour } from './scenario.js';

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
const WEEK_MS = 7 * DAY_MS;
/** Announced in time: at least this long before the mean block is at the refill point. */
const AHEAD_MS = HOUR_MS;
/** False: the tray would have lasted more than a day and more than this many times the time to the round after the next. */
const FALSE_BEYOND_H = 24;
const FALSE_ROUNDS_FACTOR = 2;

export interface NoticeTruth {
  readonly trayIds: readonly string[];
  readonly history: BenchHistory;
  readonly pours: readonly TruePour[];
  readonly rounds: RoundCalendar;
  readonly fromMs: number;
  readonly toMs: number;
}

/** How trays were announced, whoever did it. */
export interface TrayNoticeScores {
  readonly dryOuts: number;
  readonly announced: number;
  readonly listings: number;
  readonly alarms: number;
  readonly falseOnes: number;
  /** False listings among them; the rest were calls. */
  readonly falseListings: number;
  readonly trayWeeks: number;
  readonly days: number;
}

export interface NoticeScores extends TrayNoticeScores {
  readonly calls: number;
}

/** A tray named to the grower: on a notice, or by an alarm. */
export interface Announcement {
  readonly trayId: string;
  readonly atMs: number;
  readonly how: 'listed' | 'called';
}

export function announcementsOf(facts: readonly Fact[]): Announcement[] {
  return facts.flatMap((fact): Announcement[] => {
    if (fact.kind === 'round-notice')
      return fact.notice.due.map(({ tray }) => ({
        trayId: tray,
        atMs: Date.parse(fact.notice.at),
        how: 'listed',
      }));
    if (fact.kind !== 'alarm') return [];
    const { kind, state, tray, at } = fact.transition;
    const isCall = (kind === 'refill' || kind === 'dry') && state === 'unacknowledged' && tray !== undefined;
    return isCall ? [{ trayId: tray, atMs: Date.parse(at), how: 'called' }] : [];
  });
}

/** Holds what was announced against what happened, and against what would have happened without water. */
export function scoreAnnouncements(
  announcements: readonly Announcement[],
  truth: NoticeTruth,
): TrayNoticeScores {
  const { history, pours, rounds, fromMs, toMs, trayIds } = truth;
  const all = announcements.filter(({ atMs }) => atMs >= fromMs && atMs <= toMs);
  let dryOuts = 0;
  let announced = 0;
  for (const trayId of trayIds) {
    const own = announcements.filter((one) => one.trayId === trayId);
    const pouredAt = pours.filter((pour) => pour.trayId === trayId).map((pour) => pour.atMs);
    for (const dryAtMs of history.dryEvents(trayId)) {
      if (dryAtMs < fromMs || dryAtMs > toMs) continue;
      const sinceMs = Math.max(Number.NEGATIVE_INFINITY, ...pouredAt.filter((at) => at <= dryAtMs));
      dryOuts += 1;
      if (own.some(({ atMs }) => atMs >= sinceMs && atMs <= dryAtMs - AHEAD_MS)) announced += 1;
    }
  }
  const isFalse = ({ trayId, atMs }: Announcement): boolean => {
    const lastsH = history.dryOut(trayId, atMs).meanBlockH ?? Number.POSITIVE_INFINITY;
    const afterNextMs = rounds.after(atMs, 2)[1] ?? atMs;
    return lastsH > FALSE_BEYOND_H && lastsH > FALSE_ROUNDS_FACTOR * ((afterNextMs - atMs) / HOUR_MS);
  };
  const falseOnes = all.filter(isFalse);
  return {
    dryOuts,
    announced,
    listings: all.filter(({ how }) => how === 'listed').length,
    alarms: all.filter(({ how }) => how === 'called').length,
    falseOnes: falseOnes.length,
    falseListings: falseOnes.filter(({ how }) => how === 'listed').length,
    trayWeeks: (trayIds.length * (toMs - fromMs)) / WEEK_MS,
    days: (toMs - fromMs) / DAY_MS,
  };
}

/** The same for the house's own notices and alarms, its calls counted. */
export function scoreNotices(facts: readonly Fact[], truth: NoticeTruth): NoticeScores {
  const calls = facts.filter(
    (fact) =>
      fact.kind === 'call' &&
      (fact.call.kind === 'refill' || fact.call.kind === 'dry') &&
      Date.parse(fact.call.at) >= truth.fromMs,
  ).length;
  return { ...scoreAnnouncements(announcementsOf(facts), truth), calls };
}

export function addNoticeScores(a: NoticeScores, b: NoticeScores): NoticeScores {
  return { ...addTrayNotices(a, b), calls: a.calls + b.calls };
}

function addTrayNotices(a: TrayNoticeScores, b: TrayNoticeScores): TrayNoticeScores {
  return {
    dryOuts: a.dryOuts + b.dryOuts,
    announced: a.announced + b.announced,
    listings: a.listings + b.listings,
    alarms: a.alarms + b.alarms,
    falseOnes: a.falseOnes + b.falseOnes,
    falseListings: a.falseListings + b.falseListings,
    trayWeeks: a.trayWeeks + b.trayWeeks,
    days: a.days + b.days,
  };
}

/** Adds what one run scored to the sums by forecaster's name. */
export function tallyNotices(
  sums: Map<string, TrayNoticeScores>,
  run: ReadonlyMap<string, TrayNoticeScores>,
): void {
  for (const [name, one] of run) {
    const before = sums.get(name);
    sums.set(name, before === undefined ? one : addTrayNotices(before, one));
  }
}

/** One line of the trade-off: caught, false, calls. */
export function noticeCells(scores: NoticeScores): string[] {
  const share = scores.dryOuts === 0 ? '-' : `${((100 * scores.announced) / scores.dryOuts).toFixed(1)} %`;
  return [
    String(scores.dryOuts),
    share,
    (scores.falseOnes / scores.trayWeeks).toFixed(2),
    (scores.falseListings / scores.trayWeeks).toFixed(2),
    (scores.calls / scores.days).toFixed(2),
    (scores.listings / scores.trayWeeks).toFixed(2),
  ];
}

export const NOTICE_HEADER = [
  'dry-outs',
  'announced',
  'false/tray-week',
  'of these listed',
  'calls/day',
  'listings/tray-week',
];
