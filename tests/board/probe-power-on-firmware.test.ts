import { describe, expect, it } from 'vitest';
import { moistureOn, readyRig } from './virtual/rig.js';
import { voltsForCounts } from './virtual/uno.js';

describe('probe power', () => {
  it('is on only while the probes are read, and settles before the first conversion', async () => {
    const rig = await readyRig({
      board: { probePower: { pin: 7, settleMs: 100 }, sampleCount: 2 },
      probes: ['A0', 'A1', 'A2', 'A3'].map((input, index) => moistureOn(input, `moist-t${index}`)),
    });
    const { uno } = rig.plugged;
    expect(uno.isHigh(7)).toBe(false);
    const sampledMs: number[] = [];
    let unpowered = 0;
    uno.analogV = () => {
      if (!uno.isHigh(7)) unpowered++;
      sampledMs.push(rig.time.monotonicMs());
      return voltsForCounts(uno.isHigh(7) ? 500 : 0);
    };
    const startedMs = rig.time.monotonicMs();
    const samples = await rig.sample();
    await rig.time.advance(5);
    expect(Object.values(samples).map(({ counts }) => counts)).toEqual([500, 500, 500, 500]);
    expect(unpowered).toBe(0);
    expect((sampledMs[0] ?? 0) - startedMs).toBeGreaterThanOrEqual(100);
    expect((sampledMs.at(-1) ?? 0) - startedMs).toBeLessThan(200);
    expect(uno.isHigh(7)).toBe(false);
    await rig.close();
  });

  it('is switched off when a sample is broken off', async () => {
    const rig = await readyRig({
      board: { probePower: { pin: 7, settleMs: 5_000 } },
      probes: [moistureOn('A0')],
    });
    const stop = new AbortController();
    const sampling = rig.reader.sample(stop.signal);
    sampling.catch(() => undefined);
    await rig.time.advance(50);
    expect(rig.plugged.uno.isHigh(7)).toBe(true);
    stop.abort(new Error('shutting down'));
    await expect(rig.time.until(sampling)).rejects.toThrow('shutting down');
    await rig.time.advance(50);
    expect(rig.plugged.uno.isHigh(7)).toBe(false);
    await rig.close();
  });
});

describe('a multiplexer', () => {
  it('carries sixteen probes on one analog pin, each with its own value', async () => {
    const rig = await readyRig({
      board: { sampleCount: 3, multiplexers: [{ id: 'mux1', input: 'A3', selectPins: [8, 9, 10, 11] }] },
      probes: Array.from({ length: 16 }, (_, channel) => moistureOn(`mux1.${channel}`, `moist-t${channel}`)),
    });
    const { uno } = rig.plugged;
    uno.analogV = (channel) => {
      const selected = [8, 9, 10, 11].reduce((sum, pin, bit) => sum + (uno.isHigh(pin) ? 1 << bit : 0), 0);
      return voltsForCounts(channel === 3 ? 40 * selected + 7 : 0);
    };
    const samples = await rig.sample();
    for (let channel = 0; channel < 16; channel++)
      expect(samples[`moist-t${channel}`]?.counts).toBe(40 * channel + 7);
    await rig.close();
  });
});
