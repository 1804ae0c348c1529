import { z } from 'zod';

/** Units in which a probe may be delivered (SenML's names where it has one, RFC 8428 table 6), by what they measure. */
export const deliveredUnits = {
  'air-temperature': ['Cel', 'degF', 'K'],
  'relative-humidity': ['%RH', '/'],
  light: ['lx', 'W/m2'],
  'block-moisture': ['V', 'mV'],
  'tray-weight': ['g', 'kg'],
} as const;
export type DeliveredUnit = (typeof deliveredUnits)[keyof typeof deliveredUnits][number];
const unitNames = Object.values(deliveredUnits).flat() as [DeliveredUnit, ...DeliveredUnit[]];

/** RFC 6901: empty for the whole, else parts each after a slash, "~0" and "~1" for "~" and "/". */
const pointer = z
  .string()
  .regex(/^(\/([^~/]|~[01])*)*$/, 'expected a JSON Pointer such as "/air/t", or "" for the whole payload')
  .max(200);

/** A probe whose readings come by themselves: over the broker, or as JSON lines over a serial port or UDP. */
export const deliveredSchema = z.strictObject({
  part: z.literal('delivered'),
  topic: z
    .string()
    .min(1)
    .max(200)
    .regex(/^[^+#\0]*$/, 'expected one topic without "+" and "#"')
    .regex(/^(?!\$)/, 'topics that begin with "$" belong to the broker')
    .optional()
    .describe('Topic at the broker of `messaging`.'),
  serialPort: z
    .string()
    .min(1)
    .max(200)
    .optional()
    .describe('Port that sends JSON lines; prefer a link under /dev/serial/by-id.'),
  baud: z.int().min(300).max(2_000_000).default(115_200).describe('Speed of serialPort.'),
  udpPort: z.int().min(1).max(65_535).optional().describe('Port at which JSON lines come in as datagrams.'),
  udpHost: z
    .string()
    .min(1)
    .max(100)
    .default('127.0.0.1')
    .describe(
      'Address on which udpPort is heard. Anybody who reaches it can send readings: only in a network of your own.',
    ),
  path: pointer.optional().describe('JSON Pointer to the number; absent: the payload is the number.'),
  where: z
    .record(pointer, z.union([z.string(), z.number(), z.boolean()]))
    .default({})
    .describe('Only messages in which these pointers hold these values: several nodes may share a way.'),
  unit: z.enum(unitNames).optional().describe("Unit of the number; the probe's own raw unit when absent."),
  staleAfterS: z
    .number()
    .min(10)
    .max(86_400)
    .default(900)
    .describe('Silent for longer than this it has not answered; give two to three of its own intervals.'),
  timePath: pointer
    .optional()
    .describe(
      "JSON Pointer to the reading's own time, RFC 3339 or epoch seconds; the arrival counts when absent.",
    ),
  batteryPath: pointer.optional().describe('JSON Pointer to the node’s battery, volts or per cent; shown.'),
  signalPath: pointer.optional().describe('JSON Pointer to the signal strength, dBm; shown.'),
});
