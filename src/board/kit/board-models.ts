import type { BoardModel } from '../../../shared/config/kit/hookup.js';

export interface BoardModelFacts {
  readonly chip: string;
  /** What its pins bear, and what its converter compares with unless a measured value is configured. */
  readonly logicVolts: 3.3 | 5;
  /** Pins printed with a bare number: 0 to one less than this. */
  readonly digitalPinCount: number;
  readonly analogPinCount: number;
  /** Pins that only read analog values and can drive nothing. */
  readonly analogOnly: readonly string[];
  /** Digital number of A0; analog pins count on from there. */
  readonly firstAnalogAsDigital: number;
  readonly sda: string;
  readonly scl: string;
  /** The board itself, no load, milliampere. */
  readonly ownMa: number;
  /** What one pin may deliver for good, and all pins together, milliampere. */
  readonly pinMa: number;
  readonly allPinsMa: number;
  /** Pins 0 and 1 carry the serial line that Firmata talks over. */
  readonly serialOnPins01: boolean;
  /** The board's own LED: it blinks while the board starts, and loads a button's pull-up. */
  readonly ledPin: number;
  /** What the 3V3 pin of a 5 V board may deliver, milliampere; undefined where it is the board's own supply. */
  readonly threeVoltMa: number | undefined;
}

/**
 * Pin tables of the boards' published pinouts. Currents: ATmega328P data sheet DS40002061 "absolute maximum ratings" gives
 * 40 mA a pin and 200 mA in all, of which half is taken here; SAM D21 gives 7 mA a pin. The boards' own current is common
 * practice (measured values differ by clone). 3V3: the data sheet of the boards says 50 mA (from memory), less a margin.
 */
export const boardModels: { readonly [M in BoardModel]: BoardModelFacts } = {
  uno: {
    chip: 'ATmega328P',
    logicVolts: 5,
    digitalPinCount: 14,
    analogPinCount: 6,
    analogOnly: [],
    firstAnalogAsDigital: 14,
    sda: 'A4',
    scl: 'A5',
    ownMa: 50,
    pinMa: 20,
    allPinsMa: 100,
    serialOnPins01: true,
    ledPin: 13,
    threeVoltMa: 40,
  },
  nano: {
    chip: 'ATmega328P',
    logicVolts: 5,
    digitalPinCount: 14,
    analogPinCount: 8,
    analogOnly: ['A6', 'A7'],
    firstAnalogAsDigital: 14,
    sda: 'A4',
    scl: 'A5',
    ownMa: 30,
    pinMa: 20,
    allPinsMa: 100,
    serialOnPins01: true,
    ledPin: 13,
    threeVoltMa: 40,
  },
  mega: {
    chip: 'ATmega2560',
    logicVolts: 5,
    digitalPinCount: 54,
    analogPinCount: 16,
    analogOnly: [],
    firstAnalogAsDigital: 54,
    sda: '20',
    scl: '21',
    ownMa: 80,
    pinMa: 20,
    allPinsMa: 100,
    serialOnPins01: true,
    ledPin: 13,
    threeVoltMa: 40,
  },
  leonardo: {
    chip: 'ATmega32U4',
    logicVolts: 5,
    digitalPinCount: 14,
    analogPinCount: 6,
    analogOnly: [],
    firstAnalogAsDigital: 18,
    sda: '2',
    scl: '3',
    ownMa: 50,
    pinMa: 20,
    allPinsMa: 100,
    serialOnPins01: false,
    ledPin: 13,
    threeVoltMa: 40,
  },
  zero: {
    chip: 'SAM D21',
    logicVolts: 3.3,
    digitalPinCount: 14,
    analogPinCount: 6,
    analogOnly: [],
    firstAnalogAsDigital: 14,
    sda: '20',
    scl: '21',
    ownMa: 60,
    pinMa: 7,
    allPinsMa: 46,
    serialOnPins01: false,
    ledPin: 13,
    threeVoltMa: undefined,
  },
};
