import { z } from 'zod';
import { idSchema, instantSchema } from '../base/ids.js';

/** QARTOD flags: 1 pass, 2 not evaluated, 3 suspect, 4 fail, 9 missing. */
export const flagSchema = z
  .union([z.literal(1), z.literal(2), z.literal(3), z.literal(4), z.literal(9)])
  .meta({ id: 'Flag' });
export type Flag = z.infer<typeof flagSchema>;

/** Unit of a probe's raw value, as recorded and replayed. */
export const rawUnitSchema = z.enum(['V', 'Cel', '%RH', 'lx', 'W/m2', 'g']).meta({ id: 'RawUnit' });
export type RawUnit = z.infer<typeof rawUnitSchema>;

/**
 * One reading as stored and published. Raw, converted, flag and calibration id stay together; a flag annotates and
 * never overwrites or drops. `rawValue` is absent when the probe did not answer (flag 9).
 */
export const readingSchema = z
  .strictObject({
    probe: idSchema,
    at: instantSchema,
    rawValue: z.number().optional(),
    rawUnit: rawUnitSchema,
    waterContentM3PerM3: z.number().optional().describe('Calibrated block-moisture probes only.'),
    flag: flagSchema,
    flagReasons: z
      .array(z.string())
      .describe('The quality tests that did not pass, e.g. "spike"; empty on flag 1.'),
    calibrationId: z.string().optional(),
  })
  .meta({ id: 'Reading' });
