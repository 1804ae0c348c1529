import { describe, expect, it } from 'vitest';
import { farmConfigSchema } from '../../shared/config/farm.js';
import { createFarmParts } from '../../src/cli/running/house-parts/farm-parts.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import { startEvents } from '../../src/monitor/start/start-events.js';

const START_MS = Date.parse('2026-04-18T04:10:00Z');
const MIN_MS = 60_000;
const HOUR_MS = 60 * MIN_MS;

const config = farmConfigSchema.parse({
  farm: 'alder-row',
  timeZone: 'Europe/Berlin',
  benches: [{ id: 'south', temperatureLimitsC: { high: 30 } }],
  trays: [{ id: 't1', bench: 'south', blockSideMm: 19, blockCount: 280 }],
  probes: [{ id: 'temp', kind: 'air-temperature', bench: 'south' }],
});

function openPipeline(drive: 'live' | 'replay' = 'live') {
  const { pipeline } = createFarmParts(config, { startMs: START_MS, drive });
  for (const event of startEvents(config, START_MS)) pipeline.trayEvent(event, START_MS);
  return pipeline;
}

const kinds = (facts: readonly Fact[]): string[] => facts.map(({ kind }) => kind);

describe('Pipeline', () => {
  it('forecasts at each full UTC hour and gives a notice before each round, in the order of time', () => {
    const pipeline = openPipeline();
    pipeline.takeFacts();
    pipeline.advanceTo(START_MS + 13 * HOUR_MS);
    const facts = pipeline.takeFacts();
    const forecasts = facts.flatMap((fact) => (fact.kind === 'forecast' ? [fact.forecast.at] : []));
    const hourly = forecasts.filter((at) => at.endsWith(':00:00Z'));
    expect(hourly).toHaveLength(13);
    expect(hourly[0]).toBe('2026-04-18T05:00:00Z');
    const notices = facts.flatMap((fact) => (fact.kind === 'round-notice' ? [fact.notice.round] : []));
    expect(notices).toEqual(['2026-04-18T05:00:00Z', '2026-04-18T16:00:00Z']);
  });

  it('started between the time of a notice and its round gives the notice at once, and only once', () => {
    const noticesOf = (startMs: number, deskState?: unknown) => {
      const { pipeline, desk } = createFarmParts(config, { startMs, drive: 'live', deskState });
      pipeline.advanceTo(startMs + 10 * MIN_MS);
      const told = pipeline
        .takeFacts()
        .flatMap((fact) => (fact.kind === 'round-notice' ? [`${fact.notice.at} ${fact.notice.round}`] : []));
      return { told, state: desk.snapshot() };
    };
    const first = noticesOf(START_MS);
    expect(first.told).toEqual(['2026-04-18T04:10:00Z 2026-04-18T05:00:00Z']);
    expect(noticesOf(START_MS + 20 * MIN_MS, first.state).told).toEqual([]);
    expect(noticesOf(START_MS + 11 * HOUR_MS, first.state).told).toEqual([
      '2026-04-18T15:10:00Z 2026-04-18T16:00:00Z',
    ]);
    // The clock was a year ahead when that notice went out.
    const ahead = noticesOf(START_MS + 365 * 24 * HOUR_MS).state;
    expect(noticesOf(START_MS, ahead).told).toHaveLength(1);
  });

  it('in replay says nothing before the first reading', () => {
    const pipeline = openPipeline('replay');
    pipeline.takeFacts();
    pipeline.advanceTo(START_MS + 13 * HOUR_MS);
    expect(pipeline.takeFacts()).toEqual([]);
  });

  it('a value of NaN never leaves: the reading is missing, and says so', () => {
    const pipeline = openPipeline();
    pipeline.takeFacts();
    for (const rawValue of [Number.NaN, Number.POSITIVE_INFINITY, undefined])
      pipeline.sample({ probeId: 'temp', observedAtMs: START_MS, rawValue });
    for (const fact of pipeline.takeFacts()) {
      expect(fact).toMatchObject({ kind: 'reading', reading: { flag: 9, rawValue: undefined } });
    }
    pipeline.advanceTo(START_MS + 3 * HOUR_MS);
    const forecasts = pipeline
      .takeFacts()
      .flatMap((fact) => (fact.kind === 'forecast' ? [fact.forecast] : []));
    expect(forecasts.filter(({ at }) => at.endsWith(':00:00Z'))).toHaveLength(3);
    for (const { waterContentM3PerM3 } of forecasts) expect(waterContentM3PerM3).toBeGreaterThan(0);
  });

  it('a sample of a probe that is not configured is our own mistake', () => {
    expect(() => openPipeline().sample({ probeId: 'other', observedAtMs: START_MS, rawValue: 1 })).toThrow(
      RangeError,
    );
  });

  it('calls when a bench is hotter than its limit, on believed readings only', () => {
    const pipeline = openPipeline();
    pipeline.takeFacts();
    for (let minute = 0; minute <= 120; minute += 5) {
      const observedAtMs = START_MS + minute * MIN_MS;
      pipeline.advanceTo(observedAtMs - 1);
      pipeline.sample({ probeId: 'temp', observedAtMs, rawValue: 36 + Math.sin(minute) / 5 });
    }
    pipeline.advanceTo(START_MS + 2 * HOUR_MS);
    const hot = pipeline
      .takeFacts()
      .flatMap((fact) =>
        fact.kind === 'alarm' && fact.transition.kind === 'temperature' ? [fact.transition] : [],
      );
    expect(hot[0]).toMatchObject({ state: 'unacknowledged', bench: 'south' });
  });

  it('in quiet hours tells the alarm at once and calls at their end, on the clock of the farm', () => {
    const quiet = { ...config, notices: { ...config.notices, quietHours: { from: '22:00', to: '08:30' } } };
    const { pipeline } = createFarmParts(quiet, { startMs: START_MS, drive: 'live' });
    pipeline.setOutsideHealth([{ kind: 'store', source: 'store', ok: false, reason: 'disk-full' }]);
    pipeline.advanceTo(START_MS + 4 * HOUR_MS);
    const ofStore = pipeline.takeFacts().flatMap((fact) => {
      if (fact.kind === 'alarm') return [`alarm ${fact.transition.at}`];
      return fact.kind === 'call' ? [`call ${fact.call.at}`] : [];
    });
    expect(ofStore[0]).toMatch(/^alarm 2026-04-18T04:/);
    expect(ofStore.slice(1)).toEqual(['call 2026-04-18T06:30:00Z']);
  });

  it('a probe that falls silent, all there is, is one call that the monitor is blind', () => {
    const pipeline = openPipeline();
    for (let minute = 0; minute <= 60; minute += 5) {
      const observedAtMs = START_MS + minute * MIN_MS;
      pipeline.advanceTo(observedAtMs - 1);
      pipeline.sample({ probeId: 'temp', observedAtMs, rawValue: 20 + minute / 60 });
    }
    pipeline.takeFacts();
    pipeline.advanceTo(START_MS + 4 * HOUR_MS);
    const facts = pipeline.takeFacts();
    const alarms = facts.flatMap((fact) => (fact.kind === 'alarm' ? [fact.transition.kind] : []));
    expect(alarms).toContain('monitor');
    expect(alarms).not.toContain('probe');
    expect(kinds(facts)).toContain('call');
  });
});
