import { z } from 'zod';
import { idSchema } from '../../base/ids.js';
import { deliveredSchema, deliveredUnits } from './delivered.js';

/** Common small boards that run StandardFirmata; the model says which pins exist and what voltage they bear. */
export const boardModelSchema = z
  .enum(['uno', 'nano', 'mega', 'leonardo', 'zero'])
  .meta({ id: 'BoardModel' });
export type BoardModel = z.infer<typeof boardModelSchema>;

const digitalPin = z.int().min(0, 'expected a digital pin number, 0 to 69').max(69);

const analogPin = z
  .string()
  .regex(/^A(\d|1[0-5])$/, 'expected an analog pin such as "A0"')
  .describe('Analog pin as printed on the board.');

const analogInput = z
  .string()
  .regex(
    /^(A(\d|1[0-5])|[A-Za-z0-9_-]{1,40}\.(\d|1[0-5]))$/,
    'expected an analog pin such as "A0", or multiplexer and channel such as "mux1.7"',
  )
  .describe('An analog pin, "A0", or a channel of one of the board\'s multiplexers, "mux1.7".');

/** Sixteen analog inputs on one analog pin, chosen by four select lines. */
const multiplexerSchema = z.strictObject({
  id: idSchema,
  input: analogPin,
  selectPins: z
    .tuple([digitalPin, digitalPin, digitalPin, digitalPin])
    .describe('Select lines S0, S1, S2, S3, lowest first.'),
});

const probePowerSchema = z.strictObject({
  pin: digitalPin,
  through: z
    .enum(['pin', 'load-switch'])
    .default('pin')
    .describe(
      'Fed by the pin itself (dividers alone, 5 mA), or by a slow high-side switch that the pin turns on.',
    ),
  settleMs: z
    .number()
    .min(0)
    .max(10_000)
    .default(300)
    .describe('From power on to the first sample, milliseconds.'),
  topInput: analogPin
    .optional()
    .describe(
      'Measures the switched supply itself: dividers then read right however far it sags. Needed where a pin feeds them.',
    ),
});

/** A shunt reference that is measured beside the blades, so that the supply does not count. */
const referenceSchema = z.strictObject({
  input: analogPin,
  volts: z.number().min(1).max(3).default(2.5).describe("The reference's own voltage, by its print."),
});

const callPostSchema = z.strictObject({
  lampPin: digitalPin.optional(),
  buzzerPin: digitalPin.optional(),
  buttonPin: digitalPin.optional().describe('Push button to ground; the board pulls the pin up.'),
});

/** A small board on a serial port that reads probes. */
export const boardSchema = z
  .strictObject({
    id: idSchema,
    model: boardModelSchema.default('uno'),
    serialNumber: z
      .string()
      .min(1)
      .max(80)
      .optional()
      .describe('USB serial number; `drybell probes --boards` lists those that are plugged in.'),
    port: z
      .string()
      .min(1)
      .max(200)
      .optional()
      .describe('Port path, for a board without a serial number; prefer a link under /dev/serial/by-path.'),
    referenceVolts: z
      .number()
      .min(2.5)
      .max(5.5)
      .optional()
      .describe(
        'Measured between the 5V (or 3V3) pin and GND; what the converter compares with. Not needed with a reference.',
      ),
    reference: referenceSchema.optional(),
    sampleCount: z
      .int()
      .min(1)
      .max(25)
      .default(10)
      .describe('Samples per analog reading, 10 ms apart; their mean counts, outliers left out.'),
    probePower: probePowerSchema
      .optional()
      .describe('Switches the analog probes on only while they are read.'),
    multiplexers: z.array(multiplexerSchema).max(8).default([]),
    callPost: callPostSchema.optional().describe('Lamp, buzzer and button for whoever stands in the house.'),
    usbBudgetMa: z
      .number()
      .min(50)
      .max(3000)
      .default(500)
      .describe('What the USB port or hub may deliver to this board, milliampere.'),
  })
  .superRefine((board, context) => {
    if (board.serialNumber !== undefined && board.port !== undefined)
      context.addIssue({
        code: 'custom',
        path: ['port'],
        message: 'give serialNumber or port, not both; the serial number is the better one',
      });
  })
  .meta({ id: 'Board' });
export type BoardConfig = z.infer<typeof boardSchema>;

const cableM = z
  .number()
  .min(0)
  .max(100)
  .optional()
  .describe('Length of its cable, metres; 0.5 for an I2C part and 3 for others when absent.');
const onBoard = {
  board: idSchema,
  supplyVolts: z
    .union([z.literal(3.3), z.literal(5)])
    .optional()
    .describe("What the part is fed with; the board's own voltage when absent."),
  cableM,
};
const onInput = { ...onBoard, input: analogInput };
const sideSchema = z
  .enum(['ground', 'supply'])
  .default('ground')
  .describe('Where the probe sits in its divider: between input and ground, or between input and supply.');
const fixedOhm = z.number().min(100).max(10_000_000).default(10_000);

const thermistorCurveSchema = z.union([
  z.strictObject({
    points: z
      .array(
        z.strictObject({
          temperatureC: z.number().min(-60).max(150),
          resistanceOhm: z.number().gt(0).max(100_000_000),
        }),
      )
      .length(3)
      .describe("Three rows of the maker's table, well apart, e.g. 0, 25 and 50 °C: Steinhart-Hart."),
  }),
  z.strictObject({
    resistanceAt25Ohm: z.number().gt(0).max(100_000_000),
    betaK: z
      .number()
      .min(1000)
      .max(10_000)
      .describe('Beta value, kelvin; about 0.6 °C high at 0 °C, prefer points.'),
  }),
]);
export type ThermistorCurve = z.infer<typeof thermistorCurveSchema>;

const luxPerWPerM2 = z
  .number()
  .min(20)
  .max(300)
  .default(120)
  .describe("Used when the probe's unit is W/m2; daylight is near 120 lx per W/m2.");

const creepSchema = z.strictObject({
  share: z.number().min(0).max(0.05).describe('Part of a load that the cell adds by creep in the long run.'),
  timeConstantMin: z.number().min(1).max(600),
});

/** Where and how a probe is connected. Absent on probes whose readings come from elsewhere (replay). */
export const hookupSchema = z
  .discriminatedUnion('part', [
    z.strictObject({ part: z.literal('capacitive-moisture'), ...onInput }),
    z.strictObject({
      part: z.literal('thermistor'),
      ...onInput,
      fixedOhm,
      side: sideSchema,
      curve: thermistorCurveSchema,
    }),
    z.strictObject({
      part: z.literal('photo-resistor'),
      ...onInput,
      fixedOhm,
      side: sideSchema,
      resistanceAt10LxOhm: z.number().gt(0).max(10_000_000).default(15_000),
      endOhm: z
        .number()
        .min(10_000)
        .max(1_000_000)
        .optional()
        .describe('Resistor across the probe at the far end of its cable: a broken wire is then no night.'),
      gamma: z.number().min(0.3).max(1.5).default(0.7).describe('Slope of log R against log lx; data sheet.'),
      luxPerWPerM2,
    }),
    z.strictObject({
      part: z.literal('phototransistor'),
      ...onInput,
      loadOhm: z.number().min(10).max(1_000_000).default(1000),
      microampsPerLux: z.number().gt(0).max(100).default(0.5),
      luxPerWPerM2,
    }),
    z.strictObject({
      part: z.literal('sht31'),
      ...onBoard,
      address: z.enum(['0x44', '0x45']).default('0x44'),
    }),
    z.strictObject({
      part: z.literal('mcp9808'),
      ...onBoard,
      address: z.enum(['0x18', '0x19', '0x1a', '0x1b', '0x1c', '0x1d', '0x1e', '0x1f']).default('0x18'),
    }),
    z.strictObject({
      part: z.literal('bh1750'),
      ...onBoard,
      address: z.enum(['0x23', '0x5c']).default('0x23'),
      luxPerWPerM2,
    }),
    z.strictObject({
      part: z.literal('load-cell'),
      ...onBoard,
      capacityKg: z
        .number()
        .min(1)
        .max(200)
        .default(20)
        .describe("The cell's nominal load, kilogram, by its print."),
      zeroCounts: z.int().optional().describe('Converter counts of the empty scale; `drybell calibrate`.'),
      countsPerG: z.number().optional().describe('Slope of the scale; `drybell calibrate`.'),
      creep: creepSchema.optional(),
    }),
    z.strictObject({
      part: z.literal('ds18b20'),
      w1Id: z
        .string()
        .regex(/^(28)-[0-9a-f]{12}$/, 'expected a name under /sys/bus/w1/devices such as "28-0316a2795bff"')
        .describe('Read by the Linux kernel on a single-board computer, not by a board.'),
      cableM: z
        .number()
        .min(0)
        .max(15, 'expected 15 m or less: a longer 1-Wire line needs a driver of its own')
        .optional()
        .describe('Length of the line to it, metres; all probes on one line, no star.'),
    }),
    deliveredSchema,
  ])
  .meta({ id: 'Hookup' });
export type Hookup = z.infer<typeof hookupSchema>;
export type Part = Hookup['part'];
/** The hookup of one part. */
export type HookupOf<P extends Part> = Extract<Hookup, { part: P }>;

/** What each part can measure. */
export const kindsOfPart: { readonly [P in Part]: readonly string[] } = {
  'capacitive-moisture': ['block-moisture'],
  thermistor: ['air-temperature'],
  'photo-resistor': ['light'],
  phototransistor: ['light'],
  sht31: ['air-temperature', 'relative-humidity'],
  mcp9808: ['air-temperature'],
  bh1750: ['light'],
  'load-cell': ['tray-weight'],
  ds18b20: ['air-temperature'],
  delivered: Object.keys(deliveredUnits),
};
