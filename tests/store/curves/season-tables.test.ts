import { describe, expect, it } from 'vitest';
import { toInstant } from '../../../shared/base/ids.js';
import type { AlarmTransition } from '../../../shared/facts/alarm.js';
import { bySize, filterDryDowns, vpdClassOf } from '../../../src/drying/curves/curve-filter.js';
import { refillHoursBySize } from '../../../src/drying/curves/refill-hours.js';
import { countDryWet } from '../../../src/drying/curves/too-dry-too-wet.js';
import { trayAt } from '../../../src/drying/curves/tray-at.js';
import { waterUse } from '../../../src/drying/curves/water-use.js';
import { straightDryDown } from '../helpers/sample-dry-downs.js';
import { HOUR_MS, NOON_MS } from '../helpers/sample-facts.js';

const utcMonth = (atMs: number) => new Date(atMs).getUTCMonth() + 1;
const utcDay = (atMs: number) => new Date(atMs).toISOString().slice(0, 10);

describe('refillHoursBySize()', () => {
  it('is the hand-computed table of a small season', () => {
    const dryDowns = [
      straightDryDown(12, 0.02, { reachedAfterH: 10 }),
      straightDryDown(9, 0.02),
      straightDryDown(13, 0.02, { reachedAfterH: 11 }),
      straightDryDown(8, 0.02),
      straightDryDown(30, 0.005, { blockSideMm: 51 }),
    ];
    const [minis, large] = refillHoursBySize(dryDowns);
    // At 10 h two are at risk, since two were watered at 8 and 9 h: S = 1/2. At 11 h one is: S = 0.
    expect(minis).toMatchObject({ blockSideMm: 19, dryDownCount: 4, reachedCount: 2, longestH: 11 });
    expect(minis?.p10.hours).toBe(10);
    expect(minis?.p50.hours).toBe(10);
    expect(minis?.p90.hours).toBe(11);
    expect(minis?.roundsPerDay).toBeCloseTo(2.4, 12);
    expect(large).toMatchObject({
      blockSideMm: 51,
      dryDownCount: 1,
      reachedCount: 0,
      longestH: 30,
      roundsPerDay: null,
    });
    expect(large?.p50.hours).toBeNull();
  });
});

describe('filterDryDowns()', () => {
  const april = straightDryDown(9, 0.02, { meanVpdKPa: 0.5, stage: 'growing' });
  const june = straightDryDown(9, 0.03, {
    startedAtMs: Date.parse('2026-06-10T12:00:00Z'),
    meanVpdKPa: 1.3,
    benchId: 'north',
  });
  const unknown = {
    ...straightDryDown(9, 0.03),
    benchId: undefined,
    meanVpdKPa: undefined,
    blockSideMm: undefined,
  };

  it('lets through what fits and leaves out what is not known', () => {
    const all = [april, june, unknown];
    expect(filterDryDowns(all, {}, utcMonth)).toEqual(all);
    expect(filterDryDowns(all, { benchId: 'south' }, utcMonth)).toEqual([april]);
    expect(filterDryDowns(all, { months: [6] }, utcMonth)).toEqual([june]);
    expect(filterDryDowns(all, { vpdClass: 'very-dry' }, utcMonth)).toEqual([june]);
    expect(filterDryDowns(all, { stage: 'growing' }, utcMonth)).toEqual([april]);
    expect([...bySize(all).values()]).toEqual([[april, june]]);
  });

  it('classes a vapour pressure deficit at its lower end', () => {
    expect([0, 0.4, 0.8, 1.2, 5].map(vpdClassOf)).toEqual([
      'very-humid',
      'humid',
      'dry',
      'very-dry',
      'very-dry',
    ]);
    expect(vpdClassOf(undefined)).toBeUndefined();
  });
});

describe('countDryWet()', () => {
  const step = (
    kind: AlarmTransition['kind'],
    state: AlarmTransition['state'],
    tray = 't1',
  ): AlarmTransition => ({
    at: toInstant(NOON_MS),
    kind,
    state,
    tray,
  });

  it('counts a time once, from leaving normal to being back', () => {
    const counts = countDryWet([
      step('dry', 'unacknowledged'),
      step('dry', 'acknowledged'),
      step('dry', 'normal'),
      step('dry', 'unacknowledged'),
      step('dry', 'returned-to-normal-unacknowledged'),
      step('refill', 'unacknowledged'),
      step('wet', 'unacknowledged', 't2'),
      step('probe', 'unacknowledged'),
    ]);
    expect(counts).toEqual([
      { trayId: 't1', tooDryCount: 2, tooWetCount: 0 },
      { trayId: 't2', tooDryCount: 0, tooWetCount: 1 },
    ]);
  });
});

describe('waterUse()', () => {
  it('counts what was taken up before what was told, works out the rest, and says what is unknown', () => {
    const first = straightDryDown(10, 0.02);
    const second = straightDryDown(10, 0.02, { startedAtMs: first.endedAtMs });
    const at = (atMs: number, more: { ml?: number; takenUpMl?: number; tray?: string }) => ({
      at: toInstant(atMs),
      tray: 't1',
      source: 'logged' as const,
      ...more,
    });
    const use = waterUse(
      [
        at(NOON_MS - 24 * HOUR_MS, { ml: 700, takenUpMl: 410 }),
        at(NOON_MS - 23 * HOUR_MS, { ml: 100 }),
        at(first.endedAtMs, {}),
        at(first.endedAtMs, { tray: 't9' }),
      ],
      [first, second],
      utcDay,
    );
    // From 0.40 back to 0.60 in 280 blocks of 19 mm: 0.2 x 6.859 mL x 280 = 384.1 mL.
    expect(use).toEqual([
      { day: '2026-04-17', trayId: 't1', ml: 510, wateringCount: 2, workedOutCount: 0, unknownCount: 0 },
      {
        day: '2026-04-18',
        trayId: 't1',
        ml: expect.closeTo(384.104, 6),
        wateringCount: 1,
        workedOutCount: 1,
        unknownCount: 0,
      },
      { day: '2026-04-18', trayId: 't9', ml: 0, wateringCount: 1, workedOutCount: 0, unknownCount: 1 },
    ]);
  });
});

describe('trayAt()', () => {
  const events = [
    {
      at: toInstant(NOON_MS),
      tray: 't1',
      event: 'new',
      bench: 'south',
      blockSideMm: 38,
      blockCount: 72,
      cover: 'film',
    },
    { at: toInstant(NOON_MS), tray: 't1', event: 'sown' },
    { at: toInstant(NOON_MS + 96 * HOUR_MS), tray: 't1', event: 'germinated' },
    { at: toInstant(NOON_MS + 96 * HOUR_MS), tray: 't1', event: 'uncovered' },
    { at: toInstant(NOON_MS + 120 * HOUR_MS), tray: 't1', event: 'moved', bench: 'north' },
    { at: toInstant(NOON_MS), tray: 't2', event: 'new', bench: 'north', blockSideMm: 19, blockCount: 280 },
  ] as const;

  it('plays the tray life up to the instant', () => {
    expect(trayAt(events, 't1', NOON_MS + 48 * HOUR_MS)).toMatchObject({
      benchId: 'south',
      covered: true,
      stage: 'germinating',
      ageDays: 2,
    });
    expect(trayAt(events, 't1', NOON_MS + 240 * HOUR_MS)).toMatchObject({
      benchId: 'north',
      covered: false,
      stage: 'growing',
      ageDays: 10,
    });
    expect(trayAt(events, 't9', NOON_MS)).toEqual({});
  });
});
