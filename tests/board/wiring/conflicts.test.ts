import { describe, expect, it } from 'vitest';
import { boardSchema } from '../../../shared/config/kit/hookup.js';
import { probeSchema } from '../../../shared/config/kit/probes.js';
import { findConflicts } from '../../../src/board/wiring/conflicts/conflicts.js';

const board = (more: object = {}) => boardSchema.parse({ id: 'b1', ...more });
const moisture = (id: string, input: string, more: object = {}) =>
  probeSchema.parse({
    id,
    kind: 'block-moisture',
    hookup: { part: 'capacitive-moisture', board: 'b1', input, ...more },
  });
const air = (id: string, bench: string, more: object = {}, part = 'sht31') =>
  probeSchema.parse({ id, kind: 'air-temperature', bench, hookup: { part, board: 'b1', ...more } });

describe('findConflicts()', () => {
  it('finds nothing wrong with one probe of each sort', () => {
    expect(findConflicts([board()], [moisture('m1', 'A0'), air('temp-south', 'south')])).toEqual([]);
  });

  it('finds a pin that is used twice, by probes, lamp or the I2C bus, and names free ones', () => {
    const twice = findConflicts([board()], [moisture('m1', 'A0'), moisture('m2', 'A0')]);
    expect(twice).toMatchObject([
      {
        kind: 'pin-taken-twice',
        problem: 'pin A0 is wanted by probe m1 and probe m2',
        remedy: expect.stringContaining('A1, A2, A3, A4 or A5'),
      },
    ]);
    const bus = findConflicts([board()], [moisture('m1', 'A4'), air('temp-south', 'south')]);
    expect(bus).toMatchObject([{ kind: 'pin-taken-twice', problem: expect.stringContaining('I2C data') }]);
    const lamp = findConflicts([board({ probePower: { pin: 8 }, callPost: { lampPin: 8 } })], []);
    expect(lamp).toMatchObject([
      { kind: 'pin-taken-twice', problem: 'pin 8 is wanted by probe power and the call lamp' },
    ]);
    expect(findConflicts([board({ callPost: { lampPin: 1 } })], [])).toMatchObject([
      { kind: 'pin-taken-twice', problem: expect.stringContaining('the USB line') },
    ]);
  });

  it('finds one channel of a multiplexer given to two probes', () => {
    const multiplexers = [{ id: 'mux1', input: 'A0', selectPins: [2, 3, 4, 5] }];
    const found = findConflicts(
      [board({ multiplexers })],
      [moisture('m1', 'mux1.0'), moisture('m2', 'mux1.0')],
    );
    expect(found).toMatchObject([{ kind: 'pin-taken-twice', remedy: expect.stringContaining('mux1.1') }]);
  });

  it('says that analog pins have run out, and what to do', () => {
    const found = findConflicts(
      [board()],
      Array.from({ length: 7 }, (_, n) => moisture(`m${n}`, `A${n}`)),
    );
    expect(found).toMatchObject([
      {
        kind: 'out-of-analog-pins',
        problem: 'probe m6 is on A6, but a board of model "uno" ends at A5',
        remedy: expect.stringContaining('multiplexer'),
      },
    ]);
    expect(findConflicts([board({ probePower: { pin: 40 } })], [])).toMatchObject([{ kind: 'no-such-pin' }]);
    expect(findConflicts([board({ model: 'mega', probePower: { pin: 40 } })], [])).toEqual([]);
  });

  it('tells two parts at one I2C address from one part with two probes', () => {
    const humidity = probeSchema.parse({
      id: 'rh-south',
      kind: 'relative-humidity',
      bench: 'south',
      hookup: { part: 'sht31', board: 'b1' },
    });
    expect(findConflicts([board()], [air('temp-south', 'south'), humidity])).toEqual([]);
    expect(findConflicts([board()], [air('temp-south', 'south'), air('temp-north', 'north')])).toMatchObject([
      { kind: 'address-clash', remedy: 'set one of them to 0x45 (ADDR to supply)' },
    ]);
    const scales = ['s1', 's2'].map((id) =>
      probeSchema.parse({ id, kind: 'tray-weight', hookup: { part: 'load-cell', board: 'b1' } }),
    );
    expect(findConflicts([board()], scales)).toMatchObject([
      { kind: 'address-clash', remedy: expect.stringContaining('another board') },
    ]);
  });

  it('knows which pins of which board drive nothing', () => {
    const lampOn = (lampPin: number, model = 'uno') =>
      findConflicts([board({ model, callPost: { lampPin } })], []).map(({ kind }) => kind);
    expect(lampOn(20)).toEqual(['no-such-pin']);
    expect(lampOn(21, 'nano')).toEqual(['pin-only-reads']);
    expect(lampOn(16)).toEqual([]);
    expect(lampOn(20, 'mega')).toEqual([]);
    expect(lampOn(20, 'zero')).toEqual(['no-such-pin']);
    expect(findConflicts([board({ callPost: { buttonPin: 13 } })], [])).toMatchObject([
      { kind: 'pin-blinks-at-start' },
    ]);
    expect(lampOn(13)).toEqual([]);
  });

  it('lets a pin feed dividers alone, with their top measured', () => {
    const thermistor = (id: string, at: string, more: object = {}) =>
      probeSchema.parse({
        id,
        kind: 'air-temperature',
        bench: 'south',
        hookup: {
          part: 'thermistor',
          board: 'b1',
          input: at,
          curve: { resistanceAt25Ohm: 10_000, betaK: 3950 },
          ...more,
        },
      });
    const kinds = (more: object, probes: Parameters<typeof findConflicts>[1]) =>
      findConflicts([board(more)], probes).map(({ kind }) => kind);
    const onPin = { probePower: { pin: 7 } };
    expect(kinds(onPin, [moisture('m1', 'A0')])).toEqual(['blade-on-a-pin']);
    expect(kinds(onPin, [thermistor('t1', 'A0')])).toEqual(['top-not-measured']);
    expect(kinds({ probePower: { pin: 7, topInput: 'A1' } }, [thermistor('t1', 'A0')])).toEqual([]);
    expect(
      kinds({ probePower: { pin: 7, topInput: 'A1' } }, [thermistor('t1', 'A0', { fixedOhm: 500 })]),
    ).toEqual(['over-pin-current']);
    expect(kinds({}, [thermistor('t1', 'A0', { supplyVolts: 3.3 })])).toEqual(['three-volts-on-five']);
  });

  it('adds up what the 3V3 pin and a USB port must give', () => {
    const many = Array.from({ length: 5 }, (_, n) => moisture(`m${n}`, `A${n}`));
    expect(findConflicts([board({ probePower: { pin: 7, through: 'load-switch' } })], many)).toEqual([]);
    expect(findConflicts([board({ usbBudgetMa: 60 })], many)).toMatchObject([
      { kind: 'over-usb-budget', problem: expect.stringContaining('75 mA') },
    ]);
    const mux = { multiplexers: [{ id: 'mux1', input: 'A0', selectPins: [2, 3, 4, 5] }] };
    const threes = Array.from({ length: 9 }, (_, n) => moisture(`m${n}`, `mux1.${n}`, { supplyVolts: 3.3 }));
    expect(findConflicts([board(mux)], threes)).toMatchObject([
      { kind: 'over-three-volt-current', problem: expect.stringContaining('45 mA') },
    ]);
  });

  it('wants a small resistor beside a photo-resistor, and cables no longer than computed', () => {
    const light = (more: object) =>
      probeSchema.parse({
        id: 'l1',
        kind: 'light',
        bench: 'south',
        hookup: { part: 'photo-resistor', board: 'b1', input: 'A0', ...more },
      });
    expect(findConflicts([board()], [light({})])).toMatchObject([
      { kind: 'light-too-coarse', remedy: expect.stringContaining('330 to 470 Ω') },
    ]);
    expect(findConflicts([board()], [light({ fixedOhm: 330 })])).toEqual([]);
    expect(findConflicts([board()], [light({ fixedOhm: 330, cableM: 20 })])).toMatchObject([
      { kind: 'cable-too-long' },
    ]);
    expect(findConflicts([board()], [air('temp-south', 'south', { cableM: 8 })])).toMatchObject([
      { kind: 'cable-too-long', problem: expect.stringContaining('8 m long together') },
    ]);
  });

  it('finds a 5 V signal that goes into a 3.3 V board', () => {
    const zero = board({ model: 'zero' });
    expect(findConflicts([zero], [moisture('m1', 'A0'), air('temp-south', 'south')])).toEqual([]);
    expect(findConflicts([zero], [moisture('m1', 'A0', { supplyVolts: 5 })])).toMatchObject([
      { kind: 'five-volts-into-three', remedy: expect.stringContaining('18 kΩ') },
    ]);
    expect(findConflicts([zero], [air('temp-south', 'south', { supplyVolts: 5 })])).toMatchObject([
      { kind: 'five-volts-into-three', remedy: expect.stringContaining('level shifter') },
    ]);
  });

  it('wants several boards told apart', () => {
    const found = findConflicts([board({ serialNumber: 'X1' }), boardSchema.parse({ id: 'b2' })], []);
    expect(found).toMatchObject([{ kind: 'board-not-told-apart', boardId: 'b2' }]);
  });
});
