import type { Hookup, Part } from '../../../../shared/config/kit/hookup.js';
import type { BoardHookup } from '../../kit/hooked-probe.js';

/** What a part is called in the guide, what it draws, and how its address is strapped. */
export interface PartFacts {
  readonly name: string;
  /** Draw while it is read, milliampere. Rounded up from the data sheets named beside each, modules' regulators included. */
  readonly drawMa: number;
  /** What to do with the address pin of an I2C part, by address. */
  readonly strap?: Readonly<Record<string, string>>;
}

export const partFacts: { readonly [P in Exclude<Part, 'delivered'>]: PartFacts } = {
  // Common practice: 5 mA is what blades with a 555-type oscillator draw.
  'capacitive-moisture': { name: 'capacitive moisture blade', drawMa: 5 },
  // Dividers draw what their resistor lets through: see drawMa below.
  thermistor: { name: 'NTC thermistor', drawMa: 1 },
  'photo-resistor': { name: 'photo-resistor, an index of light', drawMa: 16 },
  phototransistor: { name: 'phototransistor', drawMa: 1 },
  // Sensirion SHT3x-DIS data sheet, table 4: 1.5 mA at most while it measures.
  sht31: {
    name: 'SHT31 air probe',
    drawMa: 2,
    strap: { '0x44': 'ADDR open or to GND', '0x45': 'ADDR to supply' },
  },
  // Microchip DS25095: 0.4 mA at most.
  mcp9808: {
    name: 'MCP9808 thermometer',
    drawMa: 1,
    strap: Object.fromEntries(
      Array.from({ length: 8 }, (_, index) => [
        `0x${(0x18 + index).toString(16)}`,
        `A0 A1 A2 = ${index & 1} ${(index >> 1) & 1} ${index >> 2} (1: to supply)`,
      ]),
    ),
  },
  // ROHM BH1750FVI data sheet: 0.19 mA at most.
  bh1750: {
    name: 'BH1750 light probe',
    drawMa: 1,
    strap: { '0x23': 'ADDR open or to GND', '0x5c': 'ADDR to supply' },
  },
  // Nuvoton NAU7802 data sheet, 2.1 mA, and a 1 kohm bridge at 3 V.
  'load-cell': { name: 'scale: NAU7802 and load cell', drawMa: 6 },
  ds18b20: { name: 'DS18B20 thermometer', drawMa: 2 },
};

/** Draw of what hangs on a board beside the probes, milliampere (common practice). */
export const buzzerMa = 20;
export const multiplexerMa = 1;
/** In series with a red LED of 1.8 V: 10 mA on 5 V, 4.5 mA on 3.3 V. */
export const lampResistorOhm = 330;
const lampForwardVolts = 1.8;

/** Milliampere of the call lamp on a pin of this voltage. */
export function lampMa(logicVolts: number): number {
  return Math.ceil(((logicVolts - lampForwardVolts) / lampResistorOhm) * 1000);
}

/** Milliampere that a part draws at the most: a divider with its probe shorted or in full sun. */
export function drawMa(hookup: BoardHookup, volts: number): number {
  if ('fixedOhm' in hookup) return Math.ceil((volts / hookup.fixedOhm) * 1000);
  if ('loadOhm' in hookup) return Math.ceil((volts / hookup.loadOhm) * 1000);
  return partFacts[hookup.part].drawMa;
}

/**
 * Longest cables, metres. Analog: 15 m of own return and screen keep a blade within a point (computed, tests/board/circuit).
 * Bus: all I2C cables together, where 1.8 kohm and 65 pF/m end at the 400 pF of NXP UM10204.
 */
export const longestAnalogM = 15;
export const longestBusM = 5;
/** Up to here any cable and 4.7 kohm will do; beyond, 1.8 kohm and a cable of 65 pF/m. */
export const shortBusM = 2;
export const shortBusPullUpOhm = 4700;
export const longBusPullUpOhm = 1800;

/** 4.7 kohm up to here, metres; 2.2 kohm up to the 15 m that the schema allows (rise in 5 of a 15 µs slot, 50 pF/m). */
const shortLineM = 5;

/** Pull-up of a 1-Wire line, ohm. */
export function w1PullUpOhm(lineM: number): number {
  return lineM > shortLineM ? 2200 : 4700;
}

/** I2C address of a part, as a number; undefined for one that has none. */
export function i2cAddress(hookup: Hookup): number | undefined {
  if (hookup.part === 'load-cell') return 0x2a;
  return 'address' in hookup ? Number(hookup.address) : undefined;
}

/** `0x2a` */
export function addressText(address: number): string {
  return `0x${address.toString(16).padStart(2, '0')}`;
}
