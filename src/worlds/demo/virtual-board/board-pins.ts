import { PIN_MODE } from './firmata-bytes.js';

/** What a small board's pins can do, as its firmware tells. */
export interface BoardPins {
  readonly firmwareName: string;
  readonly pinCount: number;
  /** Digital pin numbers of A0, A1, ... */
  readonly analogPins: readonly number[];
  readonly pwmPins: readonly number[];
  readonly i2cPins: readonly number[];
  /** Pins that are analog inputs only. */
  readonly analogOnlyPins: readonly number[];
}

const range = (from: number, count: number): number[] => Array.from({ length: count }, (_, i) => from + i);

/** From the boards' pin charts: ATmega328P boards with 14 digital pins and 6 or 8 analog ones. */
export const BOARD_PINS: Readonly<Record<'uno' | 'nano', BoardPins>> = {
  uno: {
    firmwareName: 'StandardFirmata.ino',
    pinCount: 20,
    analogPins: range(14, 6),
    pwmPins: [3, 5, 6, 9, 10, 11],
    i2cPins: [18, 19],
    analogOnlyPins: [],
  },
  nano: {
    firmwareName: 'StandardFirmata.ino',
    pinCount: 22,
    analogPins: range(14, 8),
    pwmPins: [3, 5, 6, 9, 10, 11],
    i2cPins: [18, 19],
    analogOnlyPins: [20, 21],
  },
};

/** Body of the capability response: mode and resolution pairs per pin, each pin closed by 127. */
export function capabilityBytes(board: BoardPins): number[] {
  return range(0, board.pinCount).flatMap((pin) => {
    const modes: number[] = [];
    const digital = pin >= 2 && !board.analogOnlyPins.includes(pin);
    if (digital) modes.push(PIN_MODE.input, 1, PIN_MODE.pullup, 1, PIN_MODE.output, 1);
    if (board.analogPins.includes(pin)) modes.push(PIN_MODE.analog, 10);
    if (board.pwmPins.includes(pin)) modes.push(PIN_MODE.pwm, 8);
    if (digital) modes.push(PIN_MODE.servo, 14);
    if (board.i2cPins.includes(pin)) modes.push(PIN_MODE.i2c, 1);
    return [...modes, 127];
  });
}

/** Body of the analog mapping response: channel per pin, 127 where there is none. */
export function analogMappingBytes(board: BoardPins): number[] {
  return range(0, board.pinCount).map((pin) => {
    const channel = board.analogPins.indexOf(pin);
    return channel < 0 ? 127 : channel;
  });
}
