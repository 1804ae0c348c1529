import { asksForHelp } from '../../../../shared/base/asks-for-help.js';
import { byName } from '../../../../shared/base/by-name.js';
import type { AlarmTransition } from '../../../../shared/facts/alarm.js';
import type { PourPlan } from '../../../../shared/facts/round-notice.js';
import type { PagePresent, PageTray } from '../../../../shared/page/page-present.js';

/** How a tray stands towards the coming round. */
export interface TrayStanding {
  readonly tray: PageTray;
  /** called: a call about its water stands. due: on the notice, not watered since. waits: lasts until `untilRound`. */
  readonly standing: 'called' | 'due' | 'waits';
  readonly doseMl?: number | undefined;
  readonly pourPlan?: PourPlan | undefined;
  readonly perhapsWatered: boolean;
  readonly untilRound?: string | undefined;
  /** On the notice, and watered since it went out. */
  readonly done: boolean;
}

const WATER_CALLS = new Set<AlarmTransition['kind']>(['refill', 'dry']);

const hoursLeft = (tray: PageTray): number =>
  tray.forecast?.hoursToRefillDriestTenth.p50 ?? Number.MAX_SAFE_INTEGER;

/** The last coming round that the tray lasts to at the farm's risk; undefined when it does not even last to the first. */
function lastsUntil(tray: PageTray, riskPct: number): string | undefined {
  const rounds = tray.forecast?.lastsUntilRounds ?? [];
  return rounds.filter((round) => round.probability >= 1 - riskPct / 100).at(-1)?.round;
}

const RANK = { called: 0, due: 1, waits: 2 } as const;

/** All trays in order of urgency: called, then due as the notice orders them, then by the hours they have left. */
export function trayStandings(present: PagePresent): TrayStanding[] {
  const notice = present.notice;
  const called = new Set(
    present.calls.filter((call) => WATER_CALLS.has(call.kind) && asksForHelp(call)).map((call) => call.tray),
  );
  const placeOn = new Map(notice?.due.map((due, index) => [due.tray, index]));
  const placeOf = ({ standing, tray }: TrayStanding): number =>
    standing === 'due' ? (placeOn.get(tray.id) ?? Number.MAX_SAFE_INTEGER) : 0;
  const standings = present.trays.map((tray): TrayStanding => {
    const due = notice?.due.find((one) => one.tray === tray.id);
    const wateredSince =
      notice !== undefined &&
      tray.lastWatering !== undefined &&
      Date.parse(tray.lastWatering.at) >= Date.parse(notice.at);
    const open = due !== undefined && !wateredSince;
    return {
      tray,
      standing: called.has(tray.id) ? 'called' : open ? 'due' : 'waits',
      doseMl: open || called.has(tray.id) ? due?.doseMl : undefined,
      pourPlan: open || called.has(tray.id) ? due?.pourPlan : undefined,
      perhapsWatered: open && due.perhapsWatered === true,
      untilRound:
        lastsUntil(tray, present.riskPct) ??
        notice?.canWait.find((wait) => wait.tray === tray.id && !wateredSince)?.untilRound,
      done: due !== undefined && wateredSince,
    };
  });
  return standings.sort(
    (a, b) =>
      RANK[a.standing] - RANK[b.standing] ||
      placeOf(a) - placeOf(b) ||
      hoursLeft(a.tray) - hoursLeft(b.tray) ||
      byName(a.tray.id, b.tray.id),
  );
}
