import { describe, expect, it } from 'vitest';
import { Sht31Model } from './virtual/i2c-parts.js';
import { moistureOn, readyRig } from './virtual/rig.js';
import { voltsForCounts } from './virtual/uno.js';

const cadenceMs = 10 * 60_000;
const dayMs = 24 * 60 * 60_000;

describe('a day on one bench', () => {
  it('passes in seconds, each value fresh, with a power dip, a pulled cable and a pulled probe in it', async () => {
    const rig = await readyRig({
      board: { probePower: { pin: 7, settleMs: 100 } },
      probes: [
        moistureOn('A0'),
        {
          id: 'temp-south',
          kind: 'air-temperature',
          bench: 'south',
          hookup: { part: 'sht31', board: 'b1' },
        },
      ],
    });
    const { uno } = rig.plugged;
    const air = new Sht31Model(() => rig.time.monotonicMs());
    uno.bus.parts.push(air);
    let values = 0;
    let missing = 0;
    for (let atMs = 0, round = 0; atMs < dayMs; atMs += cadenceMs, round++) {
      const counts = 300 + round;
      uno.analogV = () => voltsForCounts(counts);
      air.temperatureWord = 0x6000 + round;
      if (round === 30) rig.plugged.reset();
      if (round === 50) rig.plugged.unplug();
      if (round === 56) rig.plugged.plugIn();
      if (round === 80) uno.bus.parts.length = 0;
      if (round === 90) uno.bus.parts.push(air);
      const startedMs = rig.time.nowMs();
      const samples = await rig.sample();
      const moisture = samples['moist-t1'];
      if (moisture?.counts === undefined) missing++;
      else {
        values++;
        expect(moisture.counts).toBe(counts);
        expect(moisture.observedAtMs).toBeGreaterThanOrEqual(startedMs);
      }
      const temperature = samples['temp-south']?.rawValue;
      if (temperature !== undefined)
        expect(temperature).toBeCloseTo(-45 + (175 * (0x6000 + round)) / 65535, 9);
      if (round >= 80 && round < 90) expect(temperature).toBeUndefined();
      await rig.time.advance(cadenceMs);
    }
    expect(values + missing).toBe(144);
    expect(missing).toBeGreaterThanOrEqual(6);
    expect(missing).toBeLessThanOrEqual(9);
    expect(rig.complaints).toEqual([]);
    await rig.close();
  }, 300_000);
});
