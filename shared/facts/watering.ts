import { z } from 'zod';
import { idSchema, instantSchema } from '../base/ids.js';

/** One watering of one tray. A pour told is not water taken up: the two are kept apart. */
export const wateringSchema = z
  .strictObject({
    at: instantSchema.describe('Best estimate of when it was poured.'),
    tray: idSchema,
    source: z.enum(['logged', 'detected']),
    ml: z
      .number()
      .min(0)
      .optional()
      .describe(
        'Told pour for logged, absent: filled, excess tipped out. Taken up for detected, absent: the rise goes on, the amount follows.',
      ),
    askedMl: z
      .number()
      .min(0)
      .optional()
      .describe(
        'Told without an amount where the notice had asked for less than a filling: what it had asked for. As likely poured as a filling.',
      ),
    takenUpMl: z.number().min(0).optional().describe('What the probe says the blocks took up.'),
    by: z.string().optional(),
    amends: z
      .literal(true)
      .optional()
      .describe(
        'The same pour (tray, at, source) was told before; this line knows more about it. Not another watering.',
      ),
  })
  .meta({ id: 'Watering' });
export type Watering = z.infer<typeof wateringSchema>;
