import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import { callSchema } from '../../shared/facts/alarm.js';
import { createWateringDesk } from '../../src/watering/create-watering-desk.js';
import type { DeskEffect, WatchmanHealth, WateringDesk } from '../../src/watering/desk/watering-desk.js';
import { deskOf, heard, minis, type Put, tell } from './desk-of.js';
import { farm, forecast, HOUR, MIDNIGHT, MIN, only, view } from './helpers.js';

const QUIET_FROM = MIDNIGHT + 22 * HOUR;
const QUIET_TO = MIDNIGHT + 29 * HOUR;

interface Night {
  /** When each tray's mean block is dry. */
  readonly dryAtMs?: Readonly<Record<string, number>>;
  readonly health?: readonly WatchmanHealth[];
  readonly temperatureC?: number;
  readonly isQuiet?: boolean;
}

const broken = (kind: WatchmanHealth['kind'], source: string): WatchmanHealth => ({
  kind,
  source,
  ok: false,
  reason: kind === 'probe' ? 'silent' : 'disk-full',
});

/** Decides every ten minutes; quiet from 22:00 to 05:00 unless the night says otherwise. */
function watch(desk: WateringDesk, fromMs: number, toMs: number, night: Night): readonly DeskEffect[] {
  const effects: DeskEffect[] = [];
  for (let nowMs = fromMs; nowMs <= toMs; nowMs += 10 * MIN) {
    const isQuiet = night.isQuiet !== false && nowMs >= QUIET_FROM && nowMs < QUIET_TO;
    const forecasts = Object.entries(night.dryAtMs ?? {}).map(([id, dryMs]) =>
      forecast(id, nowMs, (dryMs - nowMs) / HOUR, { waterContent: 0.42 }),
    );
    effects.push(
      ...desk.decide(
        view(nowMs, forecasts, {
          health: night.health ?? [],
          temperatureC: new Map(night.temperatureC === undefined ? [] : [['south', night.temperatureC]]),
          quietUntilMs: isQuiet ? QUIET_TO : undefined,
        }),
      ),
    );
  }
  return effects;
}

const calls = (effects: readonly DeskEffect[]) =>
  only(effects, 'call').map(({ call }) => callSchema.parse(call));
const far = MIDNIGHT + 200 * HOUR;
const lasting = { t1: far, t2: far, t3: far };
/** Germinated days ago and covered; the cover is overdue within the quiet hours of the first night. */
const soon = { notices: { coverDaysAfterGermination: 0.95 } };
const covered: Put = {
  id: 't3',
  more: {
    cover: 'film',
    sownAt: toInstant(MIDNIGHT - 17 * 24 * HOUR),
    germinatedAt: toInstant(MIDNIGHT - 9 * 24 * HOUR),
  },
};

describe('quiet hours', () => {
  it('hold calls that can wait, tell their alarms at once, and sum them up in one sentence at the end', () => {
    const desk = deskOf([...minis('t1', 't2'), covered], soon);
    const night = { dryAtMs: lasting, health: [broken('probe', 'moist-t1'), broken('store', 'store')] };
    const during = watch(desk, QUIET_FROM, QUIET_TO - 10 * MIN, night);
    expect(calls(during)).toEqual([]);
    const raised = only(during, 'alarm').map(({ transition }) => [transition.kind, transition.state]);
    expect(raised).toEqual(
      expect.arrayContaining([
        ['probe', 'unacknowledged'],
        ['store', 'unacknowledged'],
        ['cover', 'unacknowledged'],
      ]),
    );
    const [call, ...more] = calls(watch(desk, QUIET_TO, QUIET_TO, night));
    expect(more).toEqual([]);
    expect(call?.trays).toEqual(['t3']);
    expect(call?.about).toEqual([
      { kind: 'cover', of: 't3' },
      { kind: 'probe', of: 'moist-t1' },
      { kind: 'store', of: 'store' },
    ]);
    expect(call?.sentence).toBe(
      'After the quiet hours: the cover is still on t3 on bench south, long after germination; probe moist-t1 is not to be trusted; the store is not well. More on the page.',
    );
    expect(calls(watch(desk, QUIET_TO + 10 * MIN, QUIET_TO + 2 * HOUR, night))).toEqual([]);
  });

  it('without them the same alarms are called at once, each for itself', () => {
    const desk = deskOf([...minis('t1', 't2'), covered], soon);
    const night = {
      dryAtMs: lasting,
      health: [broken('probe', 'moist-t1'), broken('store', 'store')],
      isQuiet: false,
    };
    const during = calls(watch(desk, QUIET_FROM, QUIET_TO - 10 * MIN, night));
    expect(during.map(({ kind }) => kind).sort()).toEqual(['cover', 'probe', 'store']);
    expect(during.every(({ about }) => about === undefined)).toBe(true);
  });

  it('never hold a dry tray, nor one that will be dry before they are over and somebody has come', () => {
    const dryMs = QUIET_TO - 2 * HOUR;
    const during = calls(
      watch(deskOf(minis('t1')), QUIET_FROM, QUIET_TO - 10 * MIN, { dryAtMs: { t1: dryMs } }),
    );
    expect(during.map(({ kind }) => kind)).toContain('refill');
    expect(Date.parse(during[0]?.at ?? '')).toBeLessThan(dryMs - HOUR);
    const edge = { t1: QUIET_TO + 30 * MIN };
    expect(
      calls(watch(deskOf(minis('t1')), QUIET_FROM, QUIET_TO - 10 * MIN, { dryAtMs: edge })).length,
    ).toBeGreaterThan(0);
  });

  it('hold a refill call while its tray lasts until they are over, and make it then in its own words', () => {
    const desk = deskOf(minis('t1'));
    // dry before the round at 07:00, yet not before somebody called at 05:00 has come
    const night = { dryAtMs: { t1: QUIET_TO + 2.1 * HOUR } };
    const during = watch(desk, QUIET_FROM, QUIET_TO - 10 * MIN, night);
    const raised = only(during, 'alarm').filter(({ transition }) => transition.kind === 'refill');
    const atOnce = watch(deskOf(minis('t1')), QUIET_FROM, QUIET_TO - 10 * MIN, { ...night, isQuiet: false });
    expect(only(atOnce, 'call')).toHaveLength(1);
    expect(raised).toHaveLength(1);
    expect(calls(during)).toEqual([]);
    const [call] = calls(watch(desk, QUIET_TO, QUIET_TO, night));
    expect(call).toMatchObject({ kind: 'refill', trays: ['t1'], bench: 'south' });
    expect(call?.sentence).toMatch(/^Bench south: t1 will not last until the 07:00 round/);
  });

  it('never hold frost', () => {
    const during = watch(deskOf(minis('t1')), QUIET_FROM, QUIET_TO - HOUR, {
      dryAtMs: lasting,
      temperatureC: 1,
    });
    expect(calls(during).map(({ kind }) => kind)).toEqual(['temperature']);
  });

  it('hold a blind watchman only while every tray lasts', () => {
    const blind = { health: [broken('monitor', 'monitor')] };
    const kinds = (dryAtMs: Record<string, number>) =>
      calls(watch(deskOf(minis('t1', 't2')), QUIET_FROM, QUIET_FROM + 2 * HOUR, { ...blind, dryAtMs })).map(
        ({ kind }) => kind,
      );
    expect(kinds({ t1: far, t2: far })).toEqual([]);
    expect(kinds({ t1: far, t2: QUIET_FROM + 7 * HOUR })).toEqual(['monitor']);
    expect(kinds({ t1: far }), 'no forecast: nobody can say that it lasts').toEqual(['monitor']);
  });

  it('what was seen or ended meanwhile is not said at their end; a restart keeps what waits', () => {
    const before = deskOf([...minis('t1', 't2'), covered], soon);
    const night = { dryAtMs: lasting, health: [broken('probe', 'moist-t1'), broken('store', 'store')] };
    watch(before, QUIET_FROM, QUIET_TO - HOUR, night);
    const desk = heard(createWateringDesk(farm(soon), JSON.parse(JSON.stringify(before.snapshot()))));
    tell(desk, { do: 'cover', tray: 't3', cover: 'none' }, view(QUIET_TO - 50 * MIN));
    const [call] = calls(watch(desk, QUIET_TO - 40 * MIN, QUIET_TO, night));
    expect(call?.about?.map(({ kind }) => kind)).toEqual(['probe', 'store']);
  });
});
