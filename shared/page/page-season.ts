import { z } from 'zod';
import { instantSchema } from '../base/ids.js';
import { cameTrueCountsSchema, hoursEstimateSchema } from './page-review.js';

const span = { from: instantSchema, to: instantSchema };

/** The seasons of which something is kept, newest first: years that begin with one month of the farm's calendar. */
export const seasonsAnswerSchema = z
  .strictObject({
    month: z.int().min(1).max(12),
    seasons: z.array(z.strictObject({ ...span, name: z.string() })),
  })
  .meta({ id: 'SeasonsAnswer' });
export type SeasonsAnswer = z.infer<typeof seasonsAnswerSchema>;

/** Crops from their sowing until the last of their trays left the benches, newest first. */
export const cyclesAnswerSchema = z
  .strictObject({
    cycles: z.array(
      z.strictObject({
        crop: z.string(),
        ...span,
        isOver: z.boolean().describe('False: trays of it are on the benches still, and `to` is now.'),
        trayCount: z.int(),
      }),
    ),
  })
  .meta({ id: 'CyclesAnswer' });
export type CyclesAnswer = z.infer<typeof cyclesAnswerSchema>;

/** One block size with one crop over a season. */
export const seasonRowSchema = z
  .strictObject({
    blockSideMm: z.number(),
    crop: z.string().optional(),
    trayCount: z.int(),
    dryDownCount: z.int(),
    reachedCount: z.int(),
    hoursToRefill: hoursEstimateSchema.describe('By which half of the dry-downs are at the refill point.'),
    longestH: z.number(),
    meanTemperatureC: z.number().nullable(),
    meanVpdKPa: z.number().nullable(),
    meanSolarWPerM2: z.number().nullable(),
    wateringCount: z.int(),
    ml: z.number(),
    unknownCount: z.int().describe('Waterings of which no amount is known; they are not in `ml`.'),
    tooDryCount: z.int(),
    tooWetCount: z.int(),
  })
  .meta({ id: 'SeasonRow' });
export type SeasonRow = z.infer<typeof seasonRowSchema>;

/** What a season came to. */
export const seasonAnswerSchema = z
  .strictObject({
    ...span,
    trayCount: z.int(),
    endedCount: z.int().describe('Trays that left the benches.'),
    roundCount: z.int().describe('Round notices that listed a tray.'),
    wateringCount: z.int(),
    ml: z.number(),
    unknownCount: z.int(),
    callCount: z.int(),
    tooDryCount: z.int(),
    tooWetCount: z.int(),
    cameTrue: cameTrueCountsSchema,
    rows: z.array(seasonRowSchema),
    sizes: z.array(
      z.strictObject({
        blockSideMm: z.number(),
        refillPointM3PerM3: z.number().optional(),
        middle: z.array(
          z.strictObject({ elapsedH: z.number(), p50M3PerM3: z.number(), curveCount: z.int() }),
        ),
      }),
    ),
  })
  .meta({ id: 'SeasonAnswer' });
export type SeasonAnswer = z.infer<typeof seasonAnswerSchema>;
