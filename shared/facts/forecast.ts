import { z } from 'zod';
import { idSchema, instantSchema } from '../base/ids.js';

/** How far ahead a forecast looks; longer is `null`. */
export const FORECAST_HORIZON_H = 120;

const hours = z.number().min(0).max(FORECAST_HORIZON_H).nullable();

/** Hours from `at` to refill at three quantiles; 0 when already there, null beyond the 120 h horizon. */
export const hoursQuantilesSchema = z
  .strictObject({ p10: hours, p50: hours, p90: hours })
  .meta({ id: 'HoursQuantiles' });
export type HoursQuantiles = z.infer<typeof hoursQuantilesSchema>;

/** Forecast of one tray: no further watering assumed, the cover as it is. */
export const forecastSchema = z
  .strictObject({
    at: instantSchema,
    tray: idSchema,
    waterContentM3PerM3: z.number().min(0).max(1),
    waterContentSdM3PerM3: z.number().min(0).optional(),
    hoursToRefill: hoursQuantilesSchema.describe('Until the mean block of the tray is at the refill point.'),
    hoursToRefillDriestTenth: hoursQuantilesSchema.describe(
      'Until a tenth of the blocks are at the refill point.',
    ),
    lastsUntilRounds: z
      .array(z.strictObject({ round: instantSchema, probability: z.number().min(0).max(1) }))
      .optional()
      .describe('Probability that the driest tenth lasts to each coming round.'),
    basis: z
      .enum(['probe', 'shared', 'prior'])
      .optional()
      .describe('What it rests on: own probe, what bench and size learned, or priors alone.'),
    containerCapacityM3PerM3: z
      .number()
      .min(0)
      .max(1)
      .optional()
      .describe('Full: what the tray’s blocks hold after watering, as the model has learned it.'),
    refillPointM3PerM3: z
      .number()
      .min(0)
      .max(1)
      .optional()
      .describe('The refill point of these blocks, as the model has learned it.'),
  })
  .meta({ id: 'Forecast' });
export type Forecast = z.infer<typeof forecastSchema>;
