import { describe, expect, it } from 'vitest';
import { Sht31Model } from './virtual/i2c-parts.js';
import { moistureOn, readyRig } from './virtual/rig.js';
import { voltsForCounts } from './virtual/uno.js';

const analogMessage = 0xe0;
const startSysex = 0xf0;
const endSysex = 0xf7;
const i2cReply = 0x77;

describe('traps of the libraries below', () => {
  it('connecting takes no signal handler and opens no prompt on standard input', async () => {
    const signals = ['SIGINT', 'SIGTERM'] as const;
    const before = signals.map((signal) => process.listenerCount(signal));
    const reading = process.stdin.listenerCount('data');
    const rig = await readyRig({ probes: [moistureOn('A0')] });
    expect(signals.map((signal) => process.listenerCount(signal))).toEqual(before);
    expect(process.stdin.listenerCount('data')).toBe(reading);
    await rig.close();
  });

  it('a board says nothing unasked after a reading', async () => {
    const rig = await readyRig({ probes: [moistureOn('A0')] });
    await rig.sample();
    let unasked = 0;
    rig.plugged.mangle = (byte) => {
      unasked++;
      return [byte];
    };
    // Left to itself the firmware reports each 19 ms.
    rig.time.stir(1_000);
    await rig.time.advance(1_000);
    expect(unasked).toBe(0);
    await rig.close();
  });

  it('counts above the range of the converter are no reading', async () => {
    const rig = await readyRig({ probes: [moistureOn('A0')] });
    rig.plugged.uno.analogV = () => voltsForCounts(500);
    let place = 0;
    rig.plugged.mangle = (byte) => {
      place = byte >= 0x80 ? 0 : place + 1;
      return [place === 2 ? byte | 0x40 : byte];
    };
    expect((await rig.sample())['moist-t1']).toMatchObject({
      rawValue: undefined,
      reason: expect.stringContaining('out of the converter'),
    });
    await rig.close();
  });

  it('a flipped bit in two of five samples does not show', async () => {
    const rig = await readyRig({ probes: [moistureOn('A0')] });
    rig.plugged.uno.analogV = () => voltsForCounts(500);
    let message = 0;
    let place = 0;
    rig.plugged.mangle = (byte) => {
      place = byte >= 0x80 ? 0 : place + 1;
      if (byte === analogMessage) message++;
      return [place === 1 && (message === 2 || message === 4) ? byte ^ 0x40 : byte];
    };
    expect((await rig.sample())['moist-t1']?.counts).toBe(500);
    await rig.close();
  });

  it('one lost I2C reply costs one reading, and the next one is a new one', async () => {
    const probe = {
      id: 'temp-south',
      kind: 'air-temperature',
      bench: 'south',
      hookup: { part: 'sht31', board: 'b1' },
    };
    const rig = await readyRig({ probes: [probe] });
    const part = new Sht31Model(() => rig.time.monotonicMs());
    rig.plugged.uno.bus.parts.push(part);
    let sysex: number[] | undefined;
    let lost = 0;
    rig.plugged.mangle = (byte) => {
      if (byte === startSysex) sysex = [];
      if (sysex === undefined) return [byte];
      sysex.push(byte);
      if (byte !== endSysex) return [];
      const whole = sysex;
      sysex = undefined;
      if (whole[1] !== i2cReply || lost > 0) return whole;
      lost++;
      return [];
    };
    expect((await rig.sample())['temp-south']).toMatchObject({
      rawValue: undefined,
      reason: 'the board did not answer in time',
    });
    part.temperatureWord = 0x8000;
    expect((await rig.sample())['temp-south']?.rawValue).toBeCloseTo(42.5013, 3);
    expect(rig.state()).toBe('ready');
    await rig.close();
  });

  it('a late answer is not taken for the answer to the next question', async () => {
    const rig = await readyRig({ board: { sampleCount: 1 }, probes: [moistureOn('A0')] });
    rig.plugged.uno.analogV = () => voltsForCounts(111);
    const held: number[] = [];
    let hold = true;
    rig.plugged.mangle = (byte) => {
      if (hold) {
        held.push(byte);
        return [];
      }
      return held.length > 0 ? [...held.splice(0), byte] : [byte];
    };
    const first = rig.reader.sample(new AbortController().signal);
    await rig.time.advance(700);
    rig.plugged.uno.analogV = () => voltsForCounts(222);
    hold = false;
    const [late] = await rig.time.until(first);
    expect(late?.rawValue).toBeUndefined();
    expect((await rig.sample())['moist-t1']?.counts).toBe(222);
    await rig.close();
  });
});
