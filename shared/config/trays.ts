import { z } from 'zod';
import { idSchema, instantSchema } from '../base/ids.js';

/** How a tray is covered until germination; the biggest single switch in the drying model. */
export const coverSchema = z.enum(['none', 'film', 'loose-dome', 'tight-dome']).meta({ id: 'Cover' });
export type Cover = z.infer<typeof coverSchema>;

const waterContentSchema = z
  .number()
  .gt(0, 'expected m3 of water per m3 of block, above 0')
  .lt(1, 'expected below 1');

/** What a tray is when it comes into the house; the configuration and the `new-tray` command share it. */
export const trayFields = {
  bench: idSchema,
  blockSideMm: z.number().min(10, 'expected 10 to 300 mm').max(300, 'expected 10 to 300 mm'),
  blockCount: z.int().min(1).max(2000),
  crop: z.string().min(1).max(80).optional(),
  medium: z.string().min(1).max(80).optional(),
  containerCapacityM3PerM3: waterContentSchema.optional(),
  refillPointM3PerM3: waterContentSchema.optional(),
  sownAt: instantSchema.optional(),
  germinatedAt: instantSchema.optional(),
  cover: coverSchema.optional(),
  channelDepthMm: z
    .number()
    .gt(0)
    .max(100)
    .optional()
    .describe('How deep one pour may stand: lip or channel.'),
  trayAreaM2: z.number().gt(0).max(4).optional().describe('Inside area of the tray; 14 x 18 in when absent.'),
};

/** Both water contents, when given, must leave water between them. */
export function capacityAboveRefill(tray: {
  containerCapacityM3PerM3?: number | undefined;
  refillPointM3PerM3?: number | undefined;
}): boolean {
  return (
    tray.containerCapacityM3PerM3 === undefined ||
    tray.refillPointM3PerM3 === undefined ||
    tray.refillPointM3PerM3 < tray.containerCapacityM3PerM3
  );
}

/** A shallow solid tray of blocks of one size, as the farm starts with it. */
export const traySchema = z
  .strictObject({ id: idSchema, ...trayFields })
  .refine(capacityAboveRefill, {
    path: ['refillPointM3PerM3'],
    error: 'expected the refill point below containerCapacityM3PerM3',
  })
  .meta({ id: 'Tray' });
