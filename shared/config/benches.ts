import { z } from 'zod';
import { idSchema } from '../base/ids.js';

/** A place with one climate. Temperature limits are off unless given. */
export const benchSchema = z
  .strictObject({
    id: idSchema,
    airSpeedMPerS: z
      .number()
      .min(0)
      .max(5)
      .optional()
      .describe('Usual air speed over the blocks; learned from dry-downs when absent.'),
    bottomHeatWPerM2: z
      .number()
      .min(0)
      .max(300)
      .optional()
      .describe(
        'Heat that a mat or pipes give the trays, mean of day and night; no bottom heat when absent.',
      ),
    temperatureLimitsC: z
      .strictObject({
        low: z.number().min(-20).max(60).optional(),
        high: z.number().min(-20).max(60).optional(),
      })
      .refine((limits) => limits.low === undefined || limits.high === undefined || limits.low < limits.high, {
        error: 'expected low below high',
      })
      .optional()
      .describe('Calls when the bench is colder or hotter than this; off when absent.'),
  })
  .meta({ id: 'Bench' });

export type BenchConfig = z.infer<typeof benchSchema>;
