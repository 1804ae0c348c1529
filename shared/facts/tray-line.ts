import { z } from 'zod';
import { idSchema, instantSchema } from '../base/ids.js';
import { coverSchema, trayFields } from '../config/trays.js';
import { hoursQuantilesSchema } from './forecast.js';

/** A tray as it stands now, in the answer to the command that lists them. */
export const trayLineSchema = z
  .strictObject({
    id: idSchema,
    bench: idSchema,
    blockSideMm: trayFields.blockSideMm,
    blockCount: trayFields.blockCount,
    crop: z.string().optional(),
    medium: z.string().optional(),
    cover: coverSchema,
    sownAt: instantSchema.optional(),
    germinatedAt: instantSchema.optional(),
    probes: z.array(idSchema).describe('Moisture probes and scales that stand in it; none is fine.'),
    lastWateredAt: instantSchema
      .optional()
      .describe('Told or seen by a probe; absent when neither is known.'),
    moistureIndex: z
      .number()
      .optional()
      .describe('What is believed now: 0 at the refill point, 1 at container capacity.'),
    hoursToRefill: hoursQuantilesSchema.optional().describe('Until its mean block is at the refill point.'),
  })
  .meta({ id: 'TrayLine' });
export type TrayLine = z.infer<typeof trayLineSchema>;
