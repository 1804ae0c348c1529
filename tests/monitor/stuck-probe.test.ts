import { describe, expect, it } from 'vitest';
import { farmConfigSchema } from '../../shared/config/farm.js';
import { createFarmParts } from '../../src/cli/running/house-parts/farm-parts.js';
import { startEvents } from '../../src/monitor/start/start-events.js';

const START_MS = Date.parse('2026-04-18T04:00:00Z');
const MIN_MS = 60_000;
const HOUR_MS = 60 * MIN_MS;
/** One step of a 10-bit converter at 5 V. */
const CONVERTER_STEP_V = 5 / 1024;

const config = farmConfigSchema.parse({
  farm: 'alder-row',
  timeZone: 'UTC',
  benches: [{ id: 'south' }],
  trays: [{ id: 't1', bench: 'south', blockSideMm: 19, blockCount: 280 }],
  probes: [
    { id: 'temp', kind: 'air-temperature', bench: 'south' },
    { id: 'rh', kind: 'relative-humidity', bench: 'south' },
    {
      id: 'moist',
      kind: 'block-moisture',
      tray: 't1',
      calibration: [
        { volts: 2.21, waterContentM3PerM3: 0.155 },
        { volts: 1.33, waterContentM3PerM3: 0.581 },
      ],
    },
  ],
});

/** Hours until a probe that shows `volts` at each minute is doubted as stuck, in air of 26 °C and 50 %; at most a day. */
function hoursUntilDoubted(volts: (minute: number) => number, humidityUntilH = 24): number {
  const { pipeline } = createFarmParts(config, { startMs: START_MS, drive: 'live' });
  for (const event of startEvents(config, START_MS)) pipeline.trayEvent(event, START_MS);
  for (let minute = 1; minute <= 24 * 60; minute += 1) {
    const observedAtMs = START_MS + minute * MIN_MS;
    const rawValue = volts(minute);
    pipeline.sample({ probeId: 'temp', observedAtMs, rawValue: 26 });
    if (minute < humidityUntilH * 60) pipeline.sample({ probeId: 'rh', observedAtMs, rawValue: 50 });
    pipeline.sample({ probeId: 'moist', observedAtMs, rawValue });
    for (const fact of pipeline.takeFacts())
      if (fact.kind === 'reading' && fact.reading.flagReasons.includes('flat-line'))
        return (observedAtMs - START_MS) / HOUR_MS;
  }
  return Number.POSITIVE_INFINITY;
}

describe('a stuck moisture probe, through the whole pipeline', () => {
  it('is doubted when the air of its bench must have dried the block, whether it stands still or flickers by a step', () => {
    expect(hoursUntilDoubted(() => 1.6)).toBeLessThan(7);
    expect(hoursUntilDoubted((minute) => 1.6 + (minute % 2) * CONVERTER_STEP_V)).toBeLessThan(7);
  });

  it('one that follows a drying block is not', () => {
    expect(hoursUntilDoubted((minute) => 1.4 + 0.0005 * minute)).toBe(Number.POSITIVE_INFINITY);
  });

  it('is doubted by time alone where the air stopped being known before it told enough', () => {
    expect(hoursUntilDoubted(() => 1.6, 2)).toBeLessThan(16);
  });
});
