import { z } from 'zod';
import { idSchema, instantSchema } from '../base/ids.js';
import { calibrationPointSchema } from '../config/kit/probes.js';
import { alarmTransitionSchema } from '../facts/alarm.js';
import { trayEventSchema } from '../facts/tray-life.js';
import { wateringSchema } from '../facts/watering.js';
import { pageProbeSchema } from './page-present.js';

const span = { from: instantSchema, to: instantSchema };

/** A quantile of hours with its 90 % interval; null where the dry-downs do not reach so far. */
export const hoursEstimateSchema = z.strictObject({
  hours: z.number().nullable(),
  lowHours: z.number().nullable(),
  highHours: z.number().nullable(),
});
export type PageHoursEstimate = z.infer<typeof hoursEstimateSchema>;

/** How one block size dried: the band of its curves and its row of the table. */
export const sizeCurvesSchema = z
  .strictObject({
    blockSideMm: z.number(),
    dryDownCount: z.int(),
    reachedCount: z
      .int()
      .describe('Dry-downs that came to the refill point; the others were watered before.'),
    band: z.array(
      z.strictObject({
        elapsedH: z.number(),
        p10M3PerM3: z
          .number()
          .nullable()
          .describe('Null from where the driest tenth were watered: how dry they would be is not known.'),
        p50M3PerM3: z.number(),
        p90M3PerM3: z.number(),
        curveCount: z.int(),
      }),
    ),
    refillPointM3PerM3: z.number().optional().describe('Where the refill line lies; absent when not known.'),
    hoursToRefill: z.strictObject({
      p10: hoursEstimateSchema,
      p50: hoursEstimateSchema,
      p90: hoursEstimateSchema,
    }),
    longestH: z.number(),
    roundsPerDay: z.number().nullable(),
    waterPerTrayDayMl: z.number().nullable(),
    tooDryCount: z.int(),
    tooWetCount: z.int(),
    trayCount: z.int(),
  })
  .meta({ id: 'SizeCurves' });
export type SizeCurves = z.infer<typeof sizeCurvesSchema>;

export const curvesAnswerSchema = z
  .strictObject({
    ...span,
    sizes: z.array(sizeCurvesSchema),
    choices: z
      .strictObject({
        benches: z.array(z.string()),
        crops: z.array(z.string()),
        months: z.array(z.int()),
        vpdClasses: z.array(z.string()),
        stages: z.array(z.string()),
        trays: z.array(z.string()),
      })
      .describe('What the span offers to filter by.'),
  })
  .meta({ id: 'CurvesAnswer' });
export type CurvesAnswer = z.infer<typeof curvesAnswerSchema>;

export const cameTrueCountsSchema = z.strictObject({
  forecastCount: z.int(),
  decidedCount: z
    .int()
    .describe('Forecasts whose tray came to its refill point, or outlived the whole range.'),
  dryDownCount: z.int(),
  decidedDryDownCount: z.int(),
  insideShare: z.number().nullable().describe('0.8 is promised; null where too few were decided.'),
  soonerShare: z.number().nullable(),
  laterShare: z.number().nullable(),
});

/** How forecasts of the hours to refill came true, altogether and by how far ahead their middle lay. */
export const cameTrueAnswerSchema = z
  .strictObject({
    ...span,
    all: cameTrueCountsSchema,
    bands: z.array(z.strictObject({ fromH: z.number(), belowH: z.number(), ...cameTrueCountsSchema.shape })),
  })
  .meta({ id: 'CameTrueAnswer' });
export type CameTrueAnswer = z.infer<typeof cameTrueAnswerSchema>;

/** One tray over a span: columns of equal length, times in epoch seconds. */
export const trayCurveAnswerSchema = z
  .strictObject({
    ...span,
    tray: idSchema,
    probe: idSchema.optional(),
    readings: z.strictObject({
      atS: z.array(z.number()),
      min: z.array(z.number()),
      mean: z.array(z.number()),
      max: z.array(z.number()),
      flagged: z.array(z.boolean()),
    }),
    forecasts: z
      .strictObject({
        atS: z.array(z.number()),
        waterContentM3PerM3: z.array(z.number()),
        p10H: z.array(z.number().nullable()),
        p50H: z.array(z.number().nullable()),
        p90H: z.array(z.number().nullable()),
      })
      .describe("The model's water content over time, and from each of these the fan to the refill point."),
    waterings: z.array(wateringSchema),
    alarms: z.array(alarmTransitionSchema),
    events: z.array(trayEventSchema),
    containerCapacityM3PerM3: z.number().optional(),
    refillPointM3PerM3: z.number().optional(),
  })
  .meta({ id: 'TrayCurveAnswer' });
export type TrayCurveAnswer = z.infer<typeof trayCurveAnswerSchema>;

export const waterAnswerSchema = z
  .strictObject({
    ...span,
    trays: z.array(
      z.strictObject({
        id: idSchema,
        bench: z.string().optional(),
        blockSideMm: z.number().optional(),
        crop: z.string().optional(),
      }),
    ),
    days: z.array(z.string()).describe('Calendar days of the farm in the span, also those without water.'),
    uses: z.array(
      z.strictObject({
        day: z.string(),
        tray: idSchema,
        ml: z.number(),
        wateringCount: z.int(),
        workedOutCount: z.int(),
        unknownCount: z.int(),
      }),
    ),
  })
  .meta({ id: 'WaterAnswer' });
export type WaterAnswer = z.infer<typeof waterAnswerSchema>;

export const probeHistorySchema = z
  .strictObject({
    probe: pageProbeSchema,
    rawUnit: z.string(),
    firstAt: instantSchema.optional(),
    course: z
      .strictObject({
        atS: z.array(z.number()),
        mean: z.array(z.number()),
        flaggedShare: z.array(z.number()),
      })
      .describe('Means of equal parts of the span; parts without a reading are left out.'),
    readingCount: z.int(),
    flaggedCount: z.int(),
    gaps: z.array(z.strictObject({ from: instantSchema, to: instantSchema })),
    drifts: z.array(z.strictObject({ at: instantSchema, driftM3PerM3: z.number() })),
    calibration: z.array(calibrationPointSchema),
  })
  .meta({ id: 'ProbeHistory' });
export type ProbeHistory = z.infer<typeof probeHistorySchema>;

export const probesAnswerSchema = z
  .strictObject({ ...span, probes: z.array(probeHistorySchema) })
  .meta({ id: 'ProbesAnswer' });
export type ProbesAnswer = z.infer<typeof probesAnswerSchema>;
