import { describe, expect, it } from 'vitest';
import { Bh1750Model, Nau7802Model, RegisterModel, Sht31Model } from './virtual/i2c-parts.js';
import { readyRig } from './virtual/rig.js';

const hookup = (part: string, more = {}) => ({ hookup: { part, board: 'b1', ...more } });
const temperature = { id: 'temp-south', kind: 'air-temperature', bench: 'south', ...hookup('sht31') };
const humidity = { id: 'rh-south', kind: 'relative-humidity', bench: 'south', ...hookup('sht31') };

describe('I2C parts on real firmware', () => {
  it('reads an SHT31 once for both its probes, after its conversion is over', async () => {
    const rig = await readyRig({ probes: [temperature, humidity] });
    const part = new Sht31Model(() => rig.time.monotonicMs());
    rig.plugged.uno.bus.parts.push(part);
    const samples = await rig.sample();
    expect(samples['temp-south']?.rawValue).toBeCloseTo(25, 9);
    expect(samples['rh-south']?.rawValue).toBeCloseTo(40, 9);
    expect(part.measuredCount).toBe(1);
    expect(part.earlyReadCount).toBe(0);
    await rig.close();
  });

  it('gives no value for an SHT31 that was pulled, though the firmware sends its stale buffer', async () => {
    const rig = await readyRig({ probes: [temperature, humidity] });
    const part = new Sht31Model(() => rig.time.monotonicMs());
    rig.plugged.uno.bus.parts.push(part);
    await rig.sample();
    rig.plugged.uno.bus.parts.length = 0;
    for (let again = 0; again < 3; again++) {
      const samples = await rig.sample();
      expect(samples['temp-south']).toMatchObject({
        rawValue: undefined,
        reason: expect.stringContaining('nothing answers at I2C address 0x44'),
      });
    }
    part.temperatureWord = 0x8000;
    rig.plugged.uno.bus.parts.push(part);
    expect((await rig.sample())['temp-south']?.rawValue).toBeCloseTo(42.5013, 3);
    await rig.close();
  });

  it('gives no value when a checksum is wrong', async () => {
    const rig = await readyRig({ probes: [temperature] });
    const part = new Sht31Model(() => rig.time.monotonicMs());
    part.noise = [0, 0x01];
    rig.plugged.uno.bus.parts.push(part);
    expect((await rig.sample())['temp-south']).toMatchObject({
      rawValue: undefined,
      reason: expect.stringContaining('checksum'),
    });
    await rig.close();
  });

  it('keeps the sign of an MCP9808, and tells another part at its address from one', async () => {
    const probe = { id: 'temp-south', kind: 'air-temperature', bench: 'south', ...hookup('mcp9808') };
    const rig = await readyRig({ probes: [probe] });
    const part = new RegisterModel(0x18, [
      [0x06, [0x00, 0x54]],
      [0x05, [0x1e, 0x70]],
    ]);
    rig.plugged.uno.bus.parts.push(part);
    expect((await rig.sample())['temp-south']?.rawValue).toBe(-25);
    part.registers.set(0x06, [0x12, 0x34]);
    expect((await rig.sample())['temp-south']).toMatchObject({
      rawValue: undefined,
      reason: expect.stringContaining('not an MCP9808'),
    });
    await rig.close();
  });

  it('reads full sun on a BH1750, in lx and in W/m2', async () => {
    const light = { kind: 'light', bench: 'south', ...hookup('bh1750') };
    const rig = await readyRig({
      probes: [
        { ...light, id: 'light-south' },
        { ...light, id: 'sun-south', unit: 'W/m2' },
      ],
    });
    const part = new Bh1750Model(() => rig.time.monotonicMs());
    part.lx = 96_000;
    rig.plugged.uno.bus.parts.push(part);
    const samples = await rig.sample();
    expect(Math.abs((samples['light-south']?.rawValue ?? 0) - part.lx)).toBeLessThan(2);
    expect(Math.abs((samples['sun-south']?.rawValue ?? 0) - part.lx / 120)).toBeLessThan(0.02);
    part.lx = 200_000;
    expect((await rig.sample())['light-south']?.reason).toContain('diffuser');
    await rig.close();
  });

  it('wakes a scale, weighs, and wakes it again after a power dip', async () => {
    const scale = {
      id: 'scale-t1',
      kind: 'tray-weight',
      ...hookup('load-cell', { zeroCounts: -12_000, countsPerG: 420 }),
    };
    const rig = await readyRig({ probes: [scale] });
    const part = new Nau7802Model(() => rig.time.monotonicMs());
    part.counts = -12_000 + 420 * 2150;
    rig.plugged.uno.bus.parts.push(part);
    expect((await rig.sample())['scale-t1']?.rawValue).toBe(2150);
    await rig.sample();
    expect(part.wakeCount).toBe(1);
    part.powerDip();
    part.counts = -12_000 - 420 * 3;
    expect((await rig.sample())['scale-t1']?.rawValue).toBe(-3);
    expect(part.wakeCount).toBe(2);
    part.powerDip();
    part.bridgeBroken = true;
    expect((await rig.sample())['scale-t1']?.reason).toContain('bridge');
    await rig.close();
  });

  it('gives the counts of a scale that is not calibrated, and says so instead of a weight', async () => {
    const rig = await readyRig({ probes: [{ id: 'scale-t1', kind: 'tray-weight', ...hookup('load-cell') }] });
    const part = new Nau7802Model(() => rig.time.monotonicMs());
    part.counts = 7777;
    rig.plugged.uno.bus.parts.push(part);
    expect((await rig.sample())['scale-t1']).toMatchObject({
      rawValue: undefined,
      counts: 7777,
      reason: expect.stringContaining('drybell calibrate scale-t1'),
    });
    await rig.close();
  });
});
