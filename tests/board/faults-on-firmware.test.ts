import { describe, expect, it } from 'vitest';
import { buildRig, moistureOn, readyRig } from './virtual/rig.js';
import { voltsForCounts } from './virtual/uno.js';

const twoMinutesMs = 120_000;

describe('a board that misbehaves', () => {
  it('is known as silent within two minutes, and no old value is given as new', async () => {
    const rig = await readyRig({ probes: [moistureOn('A0')] });
    rig.plugged.uno.analogV = () => voltsForCounts(400);
    expect((await rig.sample())['moist-t1']?.counts).toBe(400);
    rig.plugged.hung = true;
    const noticedMs = await rig.untilState('silent', twoMinutesMs);
    expect(noticedMs).toBeLessThan(60_000);
    const sample = (await rig.sample())['moist-t1'];
    expect(sample).toMatchObject({ rawValue: undefined, reason: expect.stringContaining('says nothing') });
    rig.plugged.hung = false;
    await rig.untilState('ready', twoMinutesMs);
    rig.plugged.uno.analogV = () => voltsForCounts(401);
    expect((await rig.sample())['moist-t1']?.counts).toBe(401);
    await rig.close();
  });

  it('costs a sample a few seconds at most when it hangs in mid-read', async () => {
    const probes = Array.from({ length: 6 }, (_, index) => moistureOn(`A${index}`, `moist-t${index}`));
    const rig = await readyRig({ probes });
    rig.plugged.hung = true;
    const startedMs = rig.time.monotonicMs();
    const samples = await rig.sample();
    expect(rig.time.monotonicMs() - startedMs).toBeLessThan(3_000);
    expect(Object.values(samples).map(({ rawValue }) => rawValue)).toEqual(Array(6).fill(undefined));
    await rig.close();
  });

  it('comes back by itself after it was unplugged and plugged in again', async () => {
    const rig = await readyRig({ probes: [moistureOn('A0')] });
    rig.plugged.unplug();
    await rig.untilState('unplugged', 1_000);
    expect((await rig.sample())['moist-t1']?.reason).toContain('unplugged');
    await rig.time.advance(600_000);
    expect(rig.state()).toBe('unplugged');
    rig.plugged.plugIn();
    await rig.untilState('ready', 40_000);
    rig.plugged.uno.analogV = () => voltsForCounts(512);
    expect((await rig.sample())['moist-t1']?.counts).toBe(512);
    await rig.close();
  });

  it('is "no-board" when it was never there', async () => {
    const rig = buildRig({ probes: [moistureOn('A0')] });
    rig.plugged.unplug();
    await rig.time.advance(10_000);
    expect(rig.state()).toBe('no-board');
    expect(rig.sentence()).toContain('no board is plugged in');
    await rig.close();
  });

  it('gives no value when it is reset in mid-read, and is set up again', async () => {
    const rig = await readyRig({
      board: { sampleCount: 25, probePower: { pin: 7, settleMs: 50 } },
      probes: [moistureOn('A0'), moistureOn('A1', 'moist-t2')],
    });
    rig.plugged.uno.analogV = () => voltsForCounts(300);
    let asked = 0;
    rig.plugged.uno.analogV = () => {
      asked++;
      if (asked === 10) {
        setImmediate(() => rig.plugged.reset());
      }
      return voltsForCounts(300);
    };
    const samples = await rig.sample();
    expect(samples['moist-t1']?.rawValue).toBeUndefined();
    expect(samples['moist-t2']?.rawValue).toBeUndefined();
    await rig.time.advance(60_000);
    expect(rig.state()).toBe('ready');
    const after = await rig.sample();
    expect(after['moist-t1']?.counts).toBe(300);
    expect(after['moist-t2']?.counts).toBe(300);
    await rig.close();
  });

  it('never shows counts that it did not measure while bytes are lost and noise comes in', async () => {
    const rig = await readyRig({ probes: [moistureOn('A0'), moistureOn('A1', 'moist-t2')] });
    rig.plugged.uno.analogV = (channel) => voltsForCounts(channel === 0 ? 200 : 900);
    let seed = 7;
    const random = () => {
      seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648;
      return seed / 2_147_483_648;
    };
    rig.plugged.mangle = (byte) => {
      const chance = random();
      if (chance < 0.004) return [];
      if (chance < 0.008) return [byte, Math.floor(random() * 256)];
      return [byte];
    };
    let seen = 0;
    for (let round = 0; round < 80; round++) {
      const samples = await rig.sample();
      for (const [id, counts] of [
        ['moist-t1', 200],
        ['moist-t2', 900],
      ] as const) {
        if (samples[id]?.counts === undefined) continue;
        seen++;
        expect(samples[id]?.counts).toBe(counts);
      }
      await rig.time.advance(5_000);
    }
    expect(seen).toBeGreaterThan(100);
    expect(rig.complaints).toEqual([]);
    await rig.close();
  });

  it('survives malformed and endless sysex between two readings', async () => {
    const rig = await readyRig({ probes: [moistureOn('A0')] });
    rig.plugged.uno.analogV = () => voltsForCounts(77);
    const storms: readonly (readonly number[])[] = [
      [0xf0, 0x79, 0xf7],
      [0xf0, 0x6e, 0x7f, 0x01, 0xf7],
      [0xf0, 0x6a, ...Array<number>(90).fill(3), 0xf7],
      [0xf0, 0x77, 0x01, 0xf7],
      [0xf0, 0x43, 0xf7, 0xf0, 0x73, 0x43, 0xf7],
      [0xf0, ...Array<number>(100_000).fill(0x11)],
    ];
    for (const storm of storms) {
      rig.plugged.inject(storm);
      expect((await rig.sample())['moist-t1']?.counts).toBe(77);
    }
    expect(rig.complaints).toEqual([]);
    await rig.close();
  });

  it('is "wrong-firmware" when it talks, but not Firmata', async () => {
    const rig = buildRig({ probes: [moistureOn('A0')] });
    rig.time.powerDown(rig.plugged.uno);
    await rig.time.advance(1_000);
    for (let line = 0; line < 20; line++) {
      rig.plugged.inject([...Buffer.from('t=21.4 ok\r\n')]);
      await rig.time.advance(500);
    }
    expect(rig.state()).toBe('wrong-firmware');
    expect(rig.sentence()).toContain('load StandardFirmata');
    await rig.close();
  });

  it('is "wrong-firmware" when its Firmata is too old', async () => {
    const rig = buildRig({ probes: [moistureOn('A0')] });
    const last: number[] = [];
    rig.plugged.mangle = (byte) => {
      last.push(byte);
      const [first, second] = last.slice(-3);
      return [first === 0xf9 && second === 2 && byte === 4 ? 3 : byte];
    };
    await rig.untilState('wrong-firmware', 15_000);
    expect(rig.sentence()).toContain('2.3 is too old');
    await rig.close();
  });

  it('says which pin it lacks, and reads the rest', async () => {
    const rig = await readyRig({ probes: [moistureOn('A9'), moistureOn('A1', 'moist-t2')] });
    rig.plugged.uno.analogV = () => voltsForCounts(10);
    const samples = await rig.sample();
    expect(samples['moist-t1']?.reason).toBe('the board has no analog pin A9; it has A0 to A5');
    expect(samples['moist-t2']?.counts).toBe(10);
    await rig.close();
  });
});
