import type { BoardModel } from '../../../shared/config/kit/hookup.js';

/**
 * What each board's pins can do, from the published pinouts and Firmata's Boards.h (from memory but for the uno, whose rows
 * the firmware itself confirms in `checked-kit.test.ts`): written apart from the product's own table.
 */
export interface PinTable {
  /** Pins that drive an output or watch a button. */
  readonly drives: readonly number[];
  /** Digital number of each analog input. */
  readonly analog: readonly number[];
  readonly bus: readonly [number, number];
  readonly volts: number;
  readonly pinMa: number;
  readonly allMa: number;
}

const range = (from: number, to: number): number[] =>
  Array.from({ length: to - from + 1 }, (_, i) => from + i);

export const pinTables: Readonly<Record<BoardModel, PinTable>> = {
  uno: { drives: range(2, 19), analog: range(14, 19), bus: [18, 19], volts: 5, pinMa: 20, allMa: 100 },
  nano: { drives: range(2, 19), analog: range(14, 21), bus: [18, 19], volts: 5, pinMa: 20, allMa: 100 },
  mega: { drives: range(2, 69), analog: range(54, 69), bus: [20, 21], volts: 5, pinMa: 20, allMa: 100 },
  leonardo: {
    drives: [...range(0, 13), ...range(18, 23)],
    analog: range(18, 23),
    bus: [2, 3],
    volts: 5,
    pinMa: 20,
    allMa: 100,
  },
  zero: {
    drives: [...range(0, 13), ...range(14, 19)],
    analog: range(14, 19),
    bus: [20, 21],
    volts: 3.3,
    pinMa: 7,
    allMa: 46,
  },
};
