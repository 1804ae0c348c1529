import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DateTime } from 'luxon';
import { afterAll, describe, expect, it } from 'vitest';
import type { AlarmTransition } from '../../shared/facts/alarm.js';
import type { Forecast } from '../../shared/facts/forecast.js';
import type { RoundNotice } from '../../shared/facts/round-notice.js';
import type { Watering } from '../../shared/facts/watering.js';
import { loadConfig } from '../../src/cli/config/load-config.js';
import { createFarmParts } from '../../src/cli/running/house-parts/farm-parts.js';
import { runReplay } from '../../src/worlds/replay/run-replay.js';
import { voltsOf } from '../drying/model-farm.js';

const HOUR_MS = 3_600_000;
const folder = mkdtempSync(join(tmpdir(), 'drybell-hard-days-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

interface Days {
  readonly name: string;
  readonly startMs: number;
  readonly hours: number;
  readonly timeZone?: string;
  readonly log?: readonly string[];
  /** Hours after the start at which the witness is filled. */
  readonly poursH?: readonly number[];
  /** Warmth that the climate probes see on top of the day's, K. */
  readonly warmerK?: (hour: number) => number;
  /** Share of the loss that is left, under a cover for one. */
  readonly lossShare?: (hour: number) => number;
}

interface Told {
  readonly forecasts: readonly Forecast[];
  readonly alarms: readonly AlarmTransition[];
  readonly rounds: readonly RoundNotice[];
  readonly waterings: readonly Watering[];
}

/** A made-up block: most of its loss by day, in proportion to how dry warmth makes the air. Not the model's equations. */
async function replayDays(days: Days): Promise<Told> {
  const at = join(folder, days.name);
  const block = { bench: 'south', blockCount: 72, crop: 'leek', medium: 'fine mix' };
  const levels = { containerCapacityM3PerM3: 0.62, refillPointM3PerM3: 0.35 };
  const point = (waterContentM3PerM3: number) => ({
    volts: voltsOf(waterContentM3PerM3),
    waterContentM3PerM3,
  });
  writeFileSync(
    `${at}.json`,
    JSON.stringify({
      farm: 'alder-row',
      timeZone: days.timeZone ?? 'Europe/Berlin',
      rounds: ['07:00', '18:00'],
      benches: [{ id: 'south' }],
      trays: [
        { id: 't1', blockSideMm: 38, ...block, ...levels },
        { id: 't2', blockSideMm: 51, ...block, ...levels },
      ],
      probes: [
        { id: 'temp-south', kind: 'air-temperature', bench: 'south' },
        { id: 'rh-south', kind: 'relative-humidity', bench: 'south' },
        { id: 'moist-t1', kind: 'block-moisture', tray: 't1', calibration: [0.15, 0.4, 0.65].map(point) },
      ],
    }),
  );
  const rows = ['time,probe,value'];
  let water = 0.6;
  for (let minute = 0; minute <= days.hours * 60; minute += 10) {
    const hour = minute / 60;
    const time = new Date(days.startMs + minute * 60_000).toISOString();
    const warmer = days.warmerK?.(hour) ?? 0;
    const day = Math.max(0, Math.sin((((hour + 4) % 24) / 24 - 0.25) * 2 * Math.PI));
    const loss = (0.002 + 0.01 * day) * (1 + warmer / 10) * (days.lossShare?.(hour) ?? 1);
    water = Math.max(0.12, water - loss / 6);
    if (days.poursH?.some((pourH) => pourH > hour - 1 / 6 && pourH <= hour)) water = 0.615;
    const wander = 0.002 * Math.sin(minute / 37);
    rows.push(`${time},temp-south,${(17 + 8 * day + warmer).toFixed(2)}`);
    rows.push(`${time},rh-south,${(70 - 12 * day - 2 * warmer).toFixed(1)}`);
    rows.push(`${time},moist-t1,${voltsOf(water + wander).toFixed(4)}`);
  }
  writeFileSync(`${at}.csv`, `${rows.join('\n')}\n`);
  writeFileSync(`${at}-log.csv`, ['time,tray,event,toTray', ...(days.log ?? []), ''].join('\n'));
  const config = loadConfig(`${at}.json`);
  await runReplay({
    config,
    readingsFile: `${at}.csv`,
    logFile: `${at}-log.csv`,
    outFolder: at,
    createPipeline: (startMs) => createFarmParts(config, { startMs, drive: 'replay' }).pipeline,
    onReject: ({ reason }) => expect.unreachable(reason),
  });
  const lines = <Line>(file: string): Line[] =>
    readFileSync(join(at, file), 'utf8')
      .split('\n')
      .filter((line) => line !== '')
      .map((line) => JSON.parse(line) as Line);
  return {
    forecasts: lines('forecasts.jsonl'),
    alarms: lines('alarms.jsonl'),
    rounds: lines('rounds.jsonl'),
    waterings: lines('waterings.jsonl'),
  };
}

const SPRING_MS = Date.UTC(2026, 3, 18, 4);
const afterStart = (hour: number): string => new Date(SPRING_MS + hour * HOUR_MS).toISOString();
const of = (told: Told, tray: string): Forecast[] =>
  told.forecasts.filter((forecast) => forecast.tray === tray);
const middleAt = (told: Told, hour: number): number =>
  of(told, 't1').find(({ at }) => Date.parse(at) === SPRING_MS + hour * HOUR_MS)?.hoursToRefill.p50 ?? 121;

describe('a tray that nobody ever waters', () => {
  it('is called once as due and once as dry, and stands at 0 hours', async () => {
    const told = await replayDays({ name: 'never', startMs: SPRING_MS, hours: 120 });
    const called = told.alarms.filter(
      ({ tray, kind, state }) => tray === 't1' && kind === 'dry' && state === 'unacknowledged',
    );
    expect(called).toHaveLength(1);
    expect(of(told, 't1').at(-1)?.hoursToRefill).toEqual({ p10: 0, p50: 0, p90: 0 });
    expect(told.waterings.filter(({ tray }) => tray === 't1')).toEqual([]);
    expect(told.rounds.at(-1)?.due.map(({ tray }) => tray)).toContain('t1');
  });
});

describe('a cover', () => {
  it('that was forgotten is called after germination, and the dry call comes in spite of it', async () => {
    const told = await replayDays({
      name: 'cover',
      startMs: SPRING_MS,
      hours: 216,
      lossShare: (hour) => (hour > 60 ? 1 : 0.3),
      log: [
        `${afterStart(-1)},t1,sown,`,
        `${afterStart(-0.9)},t1,covered,`,
        `${afterStart(48)},t1,germinated,`,
      ],
    });
    const firstOf = (kind: AlarmTransition['kind']) =>
      told.alarms.find(
        (alarm) => alarm.tray === 't1' && alarm.kind === kind && alarm.state === 'unacknowledged',
      );
    expect(firstOf('cover')).toBeDefined();
    expect(Date.parse(firstOf('cover')?.at ?? '')).toBeGreaterThan(SPRING_MS + 48 * HOUR_MS);
    expect(firstOf('dry')).toBeDefined();
    expect(told.alarms.filter(({ state }) => state === 'suppressed-by-design')).toEqual([]);
  });
});

describe('potting on', () => {
  it('ends the old tray, and the heir starts full with a forecast of its own size', async () => {
    const told = await replayDays({
      name: 'potted',
      startMs: SPRING_MS,
      hours: 72,
      poursH: [20, 44],
      log: [`${afterStart(50)},t1,potted-on,t2`],
    });
    const pottedMs = SPRING_MS + 50 * HOUR_MS;
    const hours = (tray: string): number[] => of(told, tray).map(({ at }) => Date.parse(at));
    expect(Math.max(...hours('t1'))).toBeLessThanOrEqual(pottedMs);
    expect(Math.max(...hours('t2'))).toBe(SPRING_MS + 72 * HOUR_MS);
    const heir = of(told, 't2').find(({ at }) => Date.parse(at) === pottedMs + HOUR_MS);
    expect(heir?.waterContentM3PerM3).toBeGreaterThan(0.57);
    const later = told.rounds.filter(({ at }) => Date.parse(at) > pottedMs);
    expect(later.length).toBeGreaterThan(0);
    for (const { due, canWait } of later)
      expect([...due, ...canWait].map(({ tray }) => tray)).toEqual(['t2']);
  });
});

describe('a board that is carried to a warmer bench', () => {
  it('invents no watering, and the forecast follows the climate it now sees', async () => {
    const poursH = [20, 44, 68, 92, 116];
    const days = {
      startMs: SPRING_MS,
      hours: 130,
      poursH,
      log: poursH.map((h) => `${afterStart(h)},t1,watered,`),
    };
    const moved = await replayDays({ name: 'moved', ...days, warmerK: (hour) => (hour > 70 ? 9 : 0) });
    const stayed = await replayDays({ name: 'stayed', ...days });
    const poured = (told: Told) => told.waterings.filter(({ tray }) => tray === 't1').length;
    expect(poured(moved)).toBe(poursH.length);
    expect(poured(stayed)).toBe(poursH.length);
    expect(middleAt(moved, 69)).toBe(middleAt(stayed, 69));
    expect(middleAt(moved, 122)).toBeLessThan(0.8 * middleAt(stayed, 122));
  });
});

describe('the nights on which clocks change', () => {
  it.each([
    ['spring in the north', 'Europe/Berlin', Date.UTC(2026, 2, 27, 12)],
    ['autumn in the north', 'Europe/Berlin', Date.UTC(2026, 9, 23, 12)],
    ['spring in the south', 'Pacific/Auckland', Date.UTC(2026, 8, 25, 0)],
    ['autumn in the south', 'Pacific/Auckland', Date.UTC(2026, 3, 3, 0)],
  ])(
    '%s: each hour has one forecast, each round keeps the clock of the farm',
    async (season, timeZone, startMs) => {
      const told = await replayDays({ name: season.replaceAll(' ', '-'), startMs, hours: 72, timeZone });
      const hours = of(told, 't2').map(({ at }) => Date.parse(at));
      expect(hours).toEqual(Array.from({ length: 73 }, (_, hour) => startMs + hour * HOUR_MS));
      const clock = told.rounds.map(({ round }) => DateTime.fromISO(round, { zone: timeZone }));
      const offsets = new Set(clock.map(({ offset }) => offset));
      expect(offsets.size).toBe(2);
      expect(clock.length).toBeGreaterThanOrEqual(5);
      for (const [i, round] of clock.entries()) {
        expect(['07:00', '18:00']).toContain(round.toFormat('HH:mm'));
        if (i > 0) expect(round.toFormat('HH:mm')).not.toBe(clock[i - 1]?.toFormat('HH:mm'));
      }
    },
  );
});
