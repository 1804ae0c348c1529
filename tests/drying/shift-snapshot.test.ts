import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shiftedInstants } from '../../shared/base/shifted-instants.js';
import { farmConfigSchema } from '../../shared/config/farm.js';
import { createFarmParts } from '../../src/cli/running/house-parts/farm-parts.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import { startEvents } from '../../src/monitor/start/start-events.js';

const START_MS = Date.parse('2026-04-18T04:00:00Z');
const MIN_MS = 60_000;
const HOUR_MS = 60 * MIN_MS;
const DAY_MS = 24 * HOUR_MS;

const config = farmConfigSchema.parse({
  farm: 'alder-row',
  timeZone: 'UTC',
  benches: [{ id: 'south' }],
  trays: [
    { id: 't1', bench: 'south', blockSideMm: 19, blockCount: 280 },
    { id: 't2', bench: 'south', blockSideMm: 51, blockCount: 48 },
  ],
  probes: [
    { id: 'temp', kind: 'air-temperature', bench: 'south' },
    { id: 'moist', kind: 'block-moisture', tray: 't1' },
  ],
});

/** Days to the same day of other years: the sun stands as high. */
const WHOLE_YEARS = [-365, -1461] as const;

interface Told {
  readonly hour: number;
  readonly what: 'watered' | 'looked' | 'cover' | 'ready-for-water';
  readonly tray: 't1' | 't2';
}

const tellings = fc.array(
  fc.record({
    hour: fc.integer({ min: 1, max: 18 }),
    what: fc.constantFrom<Told['what']>('watered', 'looked', 'cover', 'ready-for-water'),
    tray: fc.constantFrom<Told['tray']>('t1', 't2'),
  }),
  { maxLength: 5 },
);

/** 26 hours of a farm, without its sentences, which name weekdays; `setByMs`: after 20 of them its clock is set. */
function lived(told: readonly Told[], setByMs: number): readonly Fact[] {
  const { pipeline } = createFarmParts(config, { startMs: START_MS, drive: 'live' });
  for (const event of startEvents(config, START_MS)) pipeline.trayEvent(event, START_MS);
  const facts: Fact[] = [];
  for (let step = 1; step <= 156; step += 1) {
    const setMs = step > 120 ? setByMs : 0;
    const atMs = START_MS + step * 10 * MIN_MS + setMs;
    if (step === 121 && setByMs !== 0) {
      pipeline.clockStepped({ shiftMs: setByMs, skippedMs: 0, why: 'set-back' }, atMs - 5 * MIN_MS);
      // What is said of the step itself: every tray's forecast anew, under the dates that hold now.
      const said = pipeline.takeFacts().filter(({ kind }) => kind !== 'note');
      expect(said.map(({ kind }) => kind)).toEqual(config.trays.map(() => 'forecast'));
    }
    if (step === 121) facts.length = 0;
    pipeline.advanceTo(atMs - 1);
    pipeline.sample({ probeId: 'temp', observedAtMs: atMs, rawValue: 20 + Math.sin(step / 23) });
    pipeline.sample({ probeId: 'moist', observedAtMs: atMs, rawValue: 1.4 + 0.001 * step });
    pipeline.advanceTo(atMs);
    for (const { hour, what, tray } of told) {
      if (hour * 6 !== step) continue;
      const level = what === 'looked' ? { level: 3 as const } : {};
      pipeline.command({ do: what, tray, ...level } as Parameters<typeof pipeline.command>[0], `r${step}`);
    }
    facts.push(...pipeline.takeFacts());
  }
  return JSON.parse(JSON.stringify(facts), (key, value) => (key === 'sentence' ? '' : value)) as Fact[];
}

describe('a clock that is set to another year', () => {
  it('changes nothing but dates: forecasts, calls and notices are those of a clock that was right all along', () => {
    fc.assert(
      fc.property(tellings, fc.constantFrom(...WHOLE_YEARS), (told, days) => {
        const steady = lived(told, 0);
        expect(shiftedInstants(lived(told, days * DAY_MS), 0)).toEqual(
          shiftedInstants(steady, days * DAY_MS),
        );
      }),
      { numRuns: 5 },
    );
  });
});

describe('shiftedInstants()', () => {
  it('moves epoch ms and RFC 3339 wherever they stand, and nothing else', () => {
    const state = {
      atMs: START_MS,
      at: '2026-04-18T04:00:00Z',
      rounds: [[START_MS, { until: '2026-04-18T06:00:00+02:00' }]],
      map: new Map([['t1', { sinceMs: START_MS }]]),
      ml: 640,
      text: '07:00 round',
      never: undefined,
      lux: 250_000,
    };
    expect(shiftedInstants(state, -HOUR_MS)).toEqual({
      atMs: START_MS - HOUR_MS,
      at: '2026-04-18T03:00:00Z',
      rounds: [[START_MS - HOUR_MS, { until: '2026-04-18T03:00:00Z' }]],
      map: new Map([['t1', { sinceMs: START_MS - HOUR_MS }]]),
      ml: 640,
      text: '07:00 round',
      never: undefined,
      lux: 250_000,
    });
  });
});
