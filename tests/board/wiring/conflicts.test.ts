import { describe, expect, it } from 'vitest';
import { boardSchema } from '../../../shared/config/hookup.js';
import { probeSchema } from '../../../shared/config/probes.js';
import { findConflicts } from '../../../src/board/wiring/conflicts.js';

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

  it('adds up what a pin and a USB port must give', () => {
    const many = Array.from({ length: 5 }, (_, n) => moisture(`m${n}`, `A${n}`));
    expect(findConflicts([board({ probePower: { pin: 7 } })], many)).toMatchObject([
      { kind: 'over-pin-current', problem: 'the switched probes draw 25 mA, and pin 7 gives 20 mA for good' },
    ]);
    expect(findConflicts([board({ probePower: { pin: 7, through: 'load-switch' } })], many)).toEqual([]);
    expect(findConflicts([board({ usbBudgetMa: 60 })], many)).toMatchObject([
      { kind: 'over-usb-budget', problem: expect.stringContaining('75 mA') },
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
