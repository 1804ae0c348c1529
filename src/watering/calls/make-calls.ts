import { toInstant } from '../../../shared/base/ids.js';
import { MS_PER_MIN } from '../../../shared/base/time-units.js';
import { alarmKey, concernsTray, partSaid } from '../alarms/alarm-book.js';
import { isSeenTo, runningRound } from '../conditions/round-outlook.js';
import type { AlarmRecord } from '../desk/alarm-record.js';
import { type Desk, standingTray } from '../desk/desk.js';
import { memoryOf, type RoundMemory } from '../desk/desk-state.js';
import type { DeskEffect, DeskView } from '../desk/watering-desk.js';
import { comingRounds } from '../rounds/coming-rounds.js';
import { saidTray } from '../rounds/said-tray.js';
import { type SaidCall, type SaidTray, SEVERAL_REASONS } from '../sentences/said/desk-sentences.js';
import type { ToldCall } from '../sentences/said/told.js';
import { countNamedAtLeaving } from './named-at-leaving.js';
import { waitsForQuiet } from './quiet-hours.js';

/** Trays of one bench that come up within this time of a call wait and come together, unless they are urgent. */
const SAME_MOMENT_MS = 180 * MS_PER_MIN;
/** Expected loss (share of the tray) at which a tray waits for nobody. */
const URGENT_SHARE = 0.2;
/** A repeated call asks for this much more severity than when it was last made. */
const WORSE_FACTOR = 1.5;
/** Each repetition waits longer: 1, 2, 4 times the configured minutes, and then it is up to the house. */
const MOST_REPEATS = 3;
/** `calledAtMs` of a summary over several benches. */
const EVERY_BENCH = '';

interface Waiting {
  readonly record: AlarmRecord;
  readonly again: boolean;
}

/** `round`: about to begin or going on; what its notice lists is not called for a second time meanwhile. */
function waiting(
  desk: Desk,
  record: AlarmRecord,
  round: RoundMemory | undefined,
  nowMs: number,
): Waiting | undefined {
  if (record.state !== 'unacknowledged') return undefined;
  if (record.kind === 'refill' && desk.state.alarms.get(alarmKey('dry', record.of))?.active === true)
    return undefined;
  if (record.callCount === 0) return { record, again: false };
  if (record.kind === 'refill' && isSeenTo(record.of, memoryOf(desk.state, record.of), round))
    return undefined;
  const waitMs = desk.options.notices.callAgainMin * MS_PER_MIN * 2 ** (record.callCount - 1);
  const due = record.calledAtMs !== undefined && nowMs - record.calledAtMs >= waitMs;
  const worse = record.severity >= record.calledSeverity * WORSE_FACTOR && record.severity > 0;
  return due && worse && record.callCount <= MOST_REPEATS ? { record, again: true } : undefined;
}

function grouped(
  items: readonly Waiting[],
  key: (item: Waiting) => string,
): ReadonlyMap<string, readonly Waiting[]> {
  const groups = new Map<string, Waiting[]>();
  for (const item of items) {
    const group = groups.get(key(item)) ?? [];
    group.push(item);
    groups.set(key(item), group);
  }
  return groups;
}

function markCalled(items: readonly Waiting[], nowMs: number): void {
  for (const { record } of items) {
    record.calledAtMs = nowMs;
    record.callCount += 1;
    record.calledSeverity = record.severity;
    record.heldInQuiet = undefined;
  }
}

function saidTrays(desk: Desk, view: DeskView, items: readonly Waiting[]): readonly SaidTray[] {
  return items.flatMap(({ record }): SaidTray[] => {
    const tray = standingTray(desk, record.of);
    if (tray === undefined) return [];
    const forecast = view.forecasts.get(tray.id);
    const isDry = record.kind === 'dry';
    if (forecast !== undefined) return [{ ...saidTray(desk, tray, forecast, view.nowMs, view.nowMs), isDry }];
    const { id, benchId, blockSideMm, crop } = tray;
    return [{ id, benchId, blockSideMm, crop, isDry }];
  });
}

function saidOf(desk: Desk, view: DeskView, items: readonly Waiting[]): SaidCall | undefined {
  const first = items[0]?.record;
  if (first === undefined) return undefined;
  const { nowMs } = view;
  return {
    nowMs,
    kind: first.kind,
    reason: items.every(({ record }) => record.reason === first.reason) ? first.reason : SEVERAL_REASONS,
    trays: concernsTray(first.kind) ? saidTrays(desk, view, items) : [],
    of: first.of,
    others: items.slice(1).map(({ record }) => record.of),
    again: items.every((item) => item.again),
    comingRoundMs: comingRounds(desk, view, nowMs, 1)[0] ?? nowMs,
    temperatureC: first.kind === 'temperature' ? view.temperatureC.get(first.of) : undefined,
    ...partSaid(desk, first),
  };
}

function callOf(
  desk: Desk,
  view: DeskView,
  items: readonly Waiting[],
  benchId: string | undefined,
): DeskEffect | undefined {
  const said = saidOf(desk, view, items);
  if (said === undefined) return undefined;
  const { nowMs } = view;
  const { kind, of, trays, again } = said;
  const call: ToldCall = {
    at: toInstant(nowMs),
    kind,
    ...(benchId === undefined ? {} : { bench: benchId }),
    trays: trays.map(({ id }) => id),
    ...(concernsTray(kind) || kind === 'temperature' ? {} : { source: of }),
    again,
    said,
  };
  markCalled(items, nowMs);
  return { kind: 'call', call };
}

function benchOf(desk: Desk, { record }: Waiting): string {
  return standingTray(desk, record.of)?.benchId ?? EVERY_BENCH;
}

/** People were called to this tray before it was dry: that it is dry by now is worse, and no news. */
function wasCalledBefore(desk: Desk, { kind, of }: AlarmRecord): boolean {
  const refill = desk.state.alarms.get(alarmKey('refill', of));
  return kind === 'dry' && refill?.active === true && refill.callCount > 0;
}

/**
 * True for what does not wait for company: a dry tray that nobody was called to, or that much will be lost. Trays that dry one after
 * the other while nobody comes are told together, as often as a call is repeated.
 */
function waitsForNobody(desk: Desk, { record, again }: Waiting, sinceCallMs: number): boolean {
  if (again) return false;
  if (record.kind !== 'dry') return record.severity >= URGENT_SHARE;
  return !wasCalledBefore(desk, record) || sinceCallMs >= desk.options.notices.callAgainMin * MS_PER_MIN;
}

/** refill and dry of one moment are one walk, over all benches; dry speaks for both. */
function waterCalls(desk: Desk, view: DeskView, items: readonly Waiting[]): readonly DeskEffect[] {
  const { nowMs } = view;
  const byBench = grouped(items, (item) => benchOf(desk, item));
  const sinceCallMs = (benchId: string): number =>
    nowMs - Math.max(desk.state.calledAtMs.get(benchId) ?? 0, desk.state.calledAtMs.get(EVERY_BENCH) ?? 0);
  const ripe = [...byBench].filter(
    ([benchId, group]) =>
      sinceCallMs(benchId) >= SAME_MOMENT_MS ||
      group.some((item) => waitsForNobody(desk, item, sinceCallMs(benchId))),
  );
  if (ripe.length === 0) return [];
  const worstFirst = (group: readonly Waiting[]): readonly Waiting[] =>
    [...group].sort(
      (a, b) =>
        Number(b.record.kind === 'dry') - Number(a.record.kind === 'dry') ||
        b.record.severity - a.record.severity ||
        (a.record.of < b.record.of ? -1 : 1),
    );
  if (byBench.size > 1) {
    desk.state.calledAtMs.set(EVERY_BENCH, nowMs);
    const summary = callOf(desk, view, worstFirst(items), undefined);
    return summary === undefined ? [] : [summary];
  }
  return ripe.flatMap(([benchId, group]) => {
    desk.state.calledAtMs.set(benchId, nowMs);
    const call = callOf(desk, view, worstFirst(group), benchId);
    return call === undefined ? [] : [call];
  });
}

const isWater = ({ record }: Waiting): boolean => record.kind === 'refill' || record.kind === 'dry';

/** Calls about anything but water: alike ones of a bench, or of a kind of part, together. */
function groupsOfOthers(desk: Desk, items: readonly Waiting[]): readonly (readonly Waiting[])[] {
  const groups = grouped(
    items.filter((item) => !isWater(item)),
    ({ record }) => {
      const bench = concernsTray(record.kind) ? standingTray(desk, record.of)?.benchId : undefined;
      return `${record.kind}/${record.kind === 'temperature' ? record.of : (bench ?? '')}/${record.reason}`;
    },
  );
  return [...groups.values()];
}

function callsOf(desk: Desk, view: DeskView, items: readonly Waiting[]): readonly DeskEffect[] {
  const water = items.filter(isWater);
  return [
    ...(water.length === 0 ? [] : waterCalls(desk, view, water)),
    ...groupsOfOthers(desk, items).flatMap((group) => {
      const first = group[0]?.record;
      const bench =
        first?.kind === 'temperature'
          ? first.of
          : first === undefined
            ? undefined
            : standingTray(desk, first.of)?.benchId;
      return callOf(desk, view, group, bench) ?? [];
    }),
  ];
}

/** What waited for the end of the quiet hours, summed up in one call; undefined when that is one matter or none. */
function callAfterQuiet(desk: Desk, view: DeskView, items: readonly Waiting[]): DeskEffect | undefined {
  const water = grouped(
    items.filter(isWater),
    (item) => `${benchOf(desk, item)}/${item.record.kind}/${item.record.reason}`,
  );
  const others = groupsOfOthers(desk, items);
  const isOfTrays = ([first]: readonly Waiting[]): boolean =>
    first !== undefined && concernsTray(first.record.kind);
  // what is to be done at the benches first, then the watchman's own parts
  const groups = [
    ...water.values(),
    ...others.filter(isOfTrays),
    ...others.filter((group) => !isOfTrays(group)),
  ];
  const parts = groups.flatMap((group) => saidOf(desk, view, group) ?? []);
  const [first] = parts;
  if (first === undefined || parts.length < 2) return undefined;
  const said: SaidCall = { ...first, again: false, parts };
  const call: ToldCall = {
    at: toInstant(view.nowMs),
    kind: first.kind,
    trays: [...new Set(parts.flatMap(({ trays }) => trays.map(({ id }) => id)))],
    again: false,
    about: groups.flat().map(({ record }) => ({ kind: record.kind, of: record.of })),
    said,
  };
  markCalled(items, view.nowMs);
  for (const item of items.filter(isWater)) desk.state.calledAtMs.set(benchOf(desk, item), view.nowMs);
  return { kind: 'call', call };
}

/**
 * The calls of this moment: unseen alarms that were not called yet, and those that got worse since; grouped. What can wait for
 * the end of the quiet hours does, and comes in one call then.
 */
export function makeCalls(desk: Desk, view: DeskView): readonly DeskEffect[] {
  countNamedAtLeaving(desk, view.nowMs);
  const round = runningRound(desk, view.nowMs);
  const spoken: Waiting[] = [];
  for (const record of desk.state.alarms.values()) {
    const item = waiting(desk, record, round, view.nowMs);
    if (item === undefined) continue;
    if (waitsForQuiet(desk, view, record)) record.heldInQuiet = true;
    else spoken.push(item);
  }
  const held =
    view.quietUntilMs === undefined ? spoken.filter(({ record }) => record.heldInQuiet === true) : [];
  const summary = callAfterQuiet(desk, view, held);
  if (summary === undefined) return callsOf(desk, view, spoken);
  return [
    summary,
    ...callsOf(
      desk,
      view,
      spoken.filter((item) => !held.includes(item)),
    ),
  ];
}

/** Calls about these trays, benches and parts whose alarms wait to be seen, now and whether or not they were called before. */
export function callAbout(desk: Desk, subjects: readonly string[], view: DeskView): readonly DeskEffect[] {
  const meant = [...desk.state.alarms.values()].filter(
    ({ of, state }) => state === 'unacknowledged' && subjects.includes(of),
  );
  for (const record of meant) {
    record.callCount = 0;
    const bench = standingTray(desk, record.of)?.benchId;
    if (bench !== undefined) desk.state.calledAtMs.delete(bench);
  }
  desk.state.calledAtMs.delete(EVERY_BENCH);
  const items = meant.flatMap((record) => waiting(desk, record, undefined, view.nowMs) ?? []);
  return callsOf(desk, view, items);
}
