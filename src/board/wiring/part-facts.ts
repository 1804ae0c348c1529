import type { Hookup, Part } from '../../../shared/config/hookup.js';

/** What a part is called in the guide, what it draws, and how its address is strapped. */
export interface PartFacts {
  readonly name: string;
  /** Draw while it is read, milliampere. Rounded up from the data sheets named beside each, modules' regulators included. */
  readonly drawMa: number;
  /** What to do with the address pin of an I2C part, by address. */
  readonly strap?: Readonly<Record<string, string>>;
}

export const partFacts: { readonly [P in Part]: PartFacts } = {
  // Common practice: 5 mA is what blades with a 555-type oscillator draw.
  'capacitive-moisture': { name: 'capacitive moisture blade', drawMa: 5 },
  // Dividers draw supply over (fixed resistor + probe), well under 1 mA at 10 kohm.
  thermistor: { name: 'NTC thermistor', drawMa: 1 },
  'photo-resistor': { name: 'photo-resistor', drawMa: 1 },
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
export const lampMa = 10;
export const buzzerMa = 20;
export const multiplexerMa = 1;
/** In series with a red LED of 2 V on 5 V: 9 mA. */
export const lampResistorOhm = 330;

/** I2C address of a part, as a number; undefined for one that has none. */
export function i2cAddress(hookup: Hookup): number | undefined {
  if (hookup.part === 'load-cell') return 0x2a;
  return 'address' in hookup ? Number(hookup.address) : undefined;
}

/** `0x2a` */
export function addressText(address: number): string {
  return `0x${address.toString(16).padStart(2, '0')}`;
}

/** `10 kΩ`, `330 Ω`, `4.7 kΩ` */
export function ohmText(ohm: number): string {
  if (ohm >= 1_000_000) return `${Number((ohm / 1_000_000).toPrecision(3))} MΩ`;
  return ohm >= 1000 ? `${Number((ohm / 1000).toPrecision(3))} kΩ` : `${ohm} Ω`;
}
