import { z } from 'zod';
import { idSchema, instantSchema } from '../base/ids.js';
import { coverSchema, trayFields } from '../config/trays.js';

/** Five-step scale of plug growers: 1 dry, 2 light brown, 3 drying, 4 full without free water, 5 saturated. */
export const lookLevelSchema = z
  .union([z.literal(1), z.literal(2), z.literal(3), z.literal(4), z.literal(5)], {
    error: 'expected a whole number from 1 (dry) to 5 (saturated)',
  })
  .meta({ id: 'LookLevel' });
export type LookLevel = z.infer<typeof lookLevelSchema>;

const base = { at: instantSchema, tray: idSchema, by: z.string().max(40).optional() };

/** What happened to a tray, as data in the store. The tray's present is these events played in order. */
export const trayEventSchema = z
  .discriminatedUnion('event', [
    z.strictObject({ ...base, event: z.literal('new'), ...trayFields }),
    z.strictObject({ ...base, event: z.literal('sown') }),
    z.strictObject({ ...base, event: z.literal('germinated') }),
    z.strictObject({ ...base, event: z.literal('covered'), cover: coverSchema.exclude(['none']).optional() }),
    z.strictObject({ ...base, event: z.literal('uncovered') }),
    z.strictObject({ ...base, event: z.literal('watered'), ml: z.number().min(0).optional() }),
    z.strictObject({ ...base, event: z.literal('moved'), bench: idSchema }),
    z.strictObject({ ...base, event: z.literal('potted-on'), toTray: idSchema }),
    z.strictObject({ ...base, event: z.literal('weighed'), grams: z.number().gt(0) }),
    z.strictObject({ ...base, event: z.literal('looked'), level: lookLevelSchema }),
    z.strictObject({ ...base, event: z.literal('ready-for-water') }),
    z.strictObject({ ...base, event: z.literal('attached'), probe: idSchema }),
    z.strictObject({ ...base, event: z.literal('ended') }),
  ])
  .meta({ id: 'TrayEvent' });
export type TrayEvent = z.infer<typeof trayEventSchema>;
