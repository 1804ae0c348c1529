import { z } from 'zod';
import { idSchema, instantSchema } from '../base/ids.js';
import { hoursQuantilesSchema } from './forecast.js';

/** How a dose is given: pours no deeper than the tray allows, with time to soak between, the rest tipped out. */
export const pourPlanSchema = z
  .strictObject({
    pours: z.int().min(1),
    pourMl: z.number().min(0),
    soakMin: z.number().min(0),
    tipOutMl: z
      .number()
      .min(0)
      .optional()
      .describe(
        'Expected to stand in the tray after the last soak; tip it out. Written by earlier versions.',
      ),
    shortMl: z
      .number()
      .min(0)
      .optional()
      .describe('Part of the dose that the pours of one round leave out: the tray will not be full.'),
  })
  .meta({ id: 'PourPlan' });
export type PourPlan = z.infer<typeof pourPlanSchema>;

const dueSchema = z.strictObject({
  tray: idSchema,
  doseMl: z.number().min(0),
  bench: idSchema.optional(),
  crop: z.string().optional(),
  blockSideMm: z.number().optional(),
  hoursToRefill: hoursQuantilesSchema.optional(),
  pourPlan: pourPlanSchema.optional(),
  dryAt: instantSchema
    .optional()
    .describe('When the driest tenth of its blocks would be at the refill point, middle of the forecast.'),
  perhapsWatered: z
    .boolean()
    .optional()
    .describe('Nobody confirmed that it was watered: look before pouring.'),
});

/** What to water at the coming round; sent before EVERY round, also when nothing is due. Most urgent first. */
export const roundNoticeSchema = z
  .strictObject({
    at: instantSchema,
    round: instantSchema,
    due: z.array(dueSchema),
    canWait: z.array(
      z.strictObject({
        tray: idSchema,
        untilRound: instantSchema,
        hoursToRefill: hoursQuantilesSchema.optional(),
      }),
    ),
    awayUntil: instantSchema
      .optional()
      .describe('The grower said to be away until then; rounds before do not happen.'),
    sentence: z.string().optional().describe("The notice in plain words, the farm's time zone and units."),
  })
  .meta({ id: 'RoundNotice' });
export type RoundNotice = z.infer<typeof roundNoticeSchema>;
