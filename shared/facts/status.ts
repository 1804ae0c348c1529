import { z } from 'zod';
import { instantSchema } from '../base/ids.js';
import { unitsSchema } from '../config/notices.js';

/** Is the watchman awake? Retained; the last will says `online: false`. */
export const statusSchema = z
  .strictObject({
    online: z.boolean(),
    at: instantSchema
      .optional()
      .describe('Absent in the last will, which is written before the end is known.'),
    drive: z.enum(['live', 'demo', 'replay']).optional(),
    timeZone: z.string().optional().describe("The farm's time zone, IANA name."),
    units: unitsSchema.optional().describe("The farm's units, for whoever prints amounts."),
    sentence: z.string().optional(),
    troubles: z
      .array(z.string())
      .optional()
      .describe('What could not be read at the last start, and what became of it: a sentence each.'),
  })
  .meta({ id: 'Status' });
export type Status = z.infer<typeof statusSchema>;
