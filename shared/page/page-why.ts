import { z } from 'zod';
import { idSchema, instantSchema } from '../base/ids.js';
import { coverSchema } from '../config/trays.js';
import { hoursQuantilesSchema } from '../facts/forecast.js';

/** What reached the house about a tray, or what it has learned, by which its forecast can be told to stand where it does. */
export const WHY_KINDS = [
  'pour',
  'look',
  'weight',
  'ready',
  'life',
  'probe',
  'air',
  'light',
  'others',
  'own-lessons',
  'farm-lessons',
  'cover',
] as const;

/** One piece of evidence, and the forecast as it would be without it: the same model, played again. */
export const whyEvidenceSchema = z
  .strictObject({
    kind: z.enum(WHY_KINDS),
    at: instantSchema.optional().describe('When it was told, for what was told once.'),
    source: z.string().optional().describe('The probe, or who told it.'),
    count: z.int().optional().describe('Readings, or finished dry-downs.'),
    ml: z.number().optional(),
    level: z.int().optional(),
    without: hoursQuantilesSchema.describe(
      'Hours until the driest tenth is at the refill point, had it not been.',
    ),
  })
  .meta({ id: 'WhyEvidence' });
export type WhyEvidence = z.infer<typeof whyEvidenceSchema>;

export const whySupposedSchema = z
  .strictObject({
    what: z.enum(['sunny', 'dull', 'dry-air', 'damp-air', 'cover']),
    cover: coverSchema.optional(),
    hours: hoursQuantilesSchema,
  })
  .meta({ id: 'WhySupposed' });
export type WhySupposed = z.infer<typeof whySupposedSchema>;

/** Why a tray's forecast stands where it does. Hours are the driest tenth's, from `at`. */
export const trayWhySchema = z
  .strictObject({
    tray: idSchema,
    at: instantSchema,
    since: instantSchema.describe('Evidence from before this counts as what was known already.'),
    hours: hoursQuantilesSchema,
    evidence: z.array(whyEvidenceSchema).describe('By how far it moved the middle, furthest first.'),
    supposed: z.array(whySupposedSchema),
  })
  .meta({ id: 'TrayWhy' });
export type TrayWhy = z.infer<typeof trayWhySchema>;

/** A course of water content: hours from its beginning, and m³/m³. */
const courseSchema = z.strictObject({
  from: instantSchema,
  elapsedH: z.array(z.number()),
  waterContentM3PerM3: z.array(z.number()),
});
export type WaterCourse = z.infer<typeof courseSchema>;

/** Answer to "why?" of one tray: what moved its forecast, and the pictures beside it. */
export const whyAnswerSchema = z
  .strictObject({
    tray: idSchema,
    at: instantSchema,
    why: trayWhySchema.optional(),
    whyNot: z
      .enum(['no-watchman', 'too-long-ago', 'not-there'])
      .optional()
      .describe('Why no evidence is told.'),
    fan: z
      .strictObject({
        madeAt: instantSchema,
        waterContentM3PerM3: z.number(),
        p10H: z.number().nullable(),
        p50H: z.number().nullable(),
        p90H: z.number().nullable(),
      })
      .optional()
      .describe(
        'The forecast that is held against what came after it: hours until the mean block is at the refill point.',
      ),
    now: courseSchema.optional().describe('Since the last watering.'),
    before: z.array(courseSchema).describe('The last dry-downs of this tray, newest first.'),
    lastWateringAt: instantSchema.optional(),
    containerCapacityM3PerM3: z.number().optional(),
    refillPointM3PerM3: z.number().optional(),
  })
  .meta({ id: 'WhyAnswer' });
export type WhyAnswer = z.infer<typeof whyAnswerSchema>;
