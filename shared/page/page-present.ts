import { z } from 'zod';
import { idSchema, instantSchema } from '../base/ids.js';
import { languageSchema } from '../config/language.js';
import { unitsSchema } from '../config/notices.js';
import { coverSchema } from '../config/trays.js';
import { alarmTransitionSchema } from '../facts/alarm.js';
import { forecastSchema } from '../facts/forecast.js';
import { PROBE_DOUBTS } from '../facts/probe-verdict.js';
import { flagSchema, rawUnitSchema } from '../facts/reading.js';
import { roundNoticeSchema } from '../facts/round-notice.js';
import { wateringSchema } from '../facts/watering.js';

/** A tray as the page shows it now. */
export const pageTraySchema = z
  .strictObject({
    id: idSchema,
    bench: idSchema,
    blockSideMm: z.number(),
    blockCount: z.int(),
    crop: z.string().optional(),
    medium: z.string().optional(),
    trayAreaM2: z.number().optional(),
    cover: coverSchema,
    coveredAt: instantSchema.optional(),
    sownAt: instantSchema.optional(),
    germinatedAt: instantSchema.optional(),
    startedAt: instantSchema,
    hasProbe: z.boolean(),
    moistureIndex: z
      .number()
      .optional()
      .describe('0 at the refill point, 1 at container capacity; absent until both are known.'),
    forecast: forecastSchema.optional(),
    forecastEndedAt: instantSchema
      .optional()
      .describe('Instead of a forecast: when the last one was made, too long ago to say anything of now.'),
    lastWatering: wateringSchema.optional(),
  })
  .meta({ id: 'PageTray' });
export type PageTray = z.infer<typeof pageTraySchema>;

/** A probe as the page shows it now: the newest reading and the verdict whether it tells the truth. */
export const pageProbeSchema = z
  .strictObject({
    id: idSchema,
    kind: z.enum(['air-temperature', 'relative-humidity', 'light', 'block-moisture', 'tray-weight']),
    bench: idSchema.optional(),
    tray: idSchema.optional(),
    ok: z.boolean(),
    reason: z
      .enum(['', ...PROBE_DOUBTS])
      .describe('Why it is not believed to tell the truth; empty where it is.'),
    reading: z
      .strictObject({
        at: instantSchema,
        rawValue: z.number().optional(),
        rawUnit: rawUnitSchema,
        waterContentM3PerM3: z.number().optional(),
        flag: flagSchema,
        flagReasons: z.array(z.string()),
      })
      .optional(),
    delivered: z
      .strictObject({
        heardAt: instantSchema,
        battery: z.number().optional().describe('As its node tells it, volts or per cent.'),
        signalDbm: z.number().optional(),
      })
      .optional()
      .describe('Probes that come by radio: when it was last heard, and how its node is.'),
  })
  .meta({ id: 'PageProbe' });
export type PageProbe = z.infer<typeof pageProbeSchema>;

/** A part of the house other than a probe that is not well. */
export const pageAilmentSchema = z
  .strictObject({ kind: z.string(), source: z.string(), sentence: z.string() })
  .meta({ id: 'PageAilment' });
export type PageAilment = z.infer<typeof pageAilmentSchema>;

/** Everything the Now view stands on. */
export const pagePresentSchema = z
  .strictObject({
    cursor: z.string().describe('Where the live stream stood; hand it back as `after` to resume.'),
    farm: idSchema,
    timeZone: z.string(),
    units: unitsSchema,
    language: languageSchema,
    houseCount: z
      .int()
      .optional()
      .describe(
        'Houses on the page that shows them all, this one included; absent where there is but this one.',
      ),
    riskPct: z.number(),
    drive: z.enum(['live', 'demo', 'replay', 'review']),
    at: instantSchema.describe("The farm's clock when this was told."),
    clockSpeed: z
      .number()
      .describe(
        "Seconds of the farm's clock in one second; 1 when live, 0 where it stands at a past moment.",
      ),
    canTell: z.boolean().describe('False where nothing can be told: a page on a store without a watchman.'),
    benches: z.array(
      z.strictObject({
        id: idSchema,
        temperatureC: z.number().optional(),
        relativeHumidityPct: z.number().optional(),
      }),
    ),
    nextRounds: z.array(instantSchema),
    awayUntil: instantSchema.optional(),
    testCall: z
      .strictObject({ at: instantSchema, ways: z.array(idSchema) })
      .optional()
      .describe('A test call that waits for somebody to say by which of these ways it came.'),
    notice: roundNoticeSchema.optional(),
    trays: z.array(pageTraySchema),
    calls: z.array(alarmTransitionSchema).describe('Standing alarms, in whatever state but normal.'),
    probes: z.array(pageProbeSchema),
    ailments: z.array(pageAilmentSchema),
  })
  .meta({ id: 'PagePresent' });
export type PagePresent = z.infer<typeof pagePresentSchema>;

/** What changed since the event before: whole sections, but trays and probes one by one. */
export const pagePatchSchema = pagePresentSchema
  .omit({ cursor: true, farm: true, timeZone: true, units: true, language: true, houseCount: true })
  .partial()
  .extend({
    at: instantSchema,
    goneTrays: z.array(idSchema).optional(),
    goneProbes: z.array(idSchema).optional(),
    gone: z
      .array(z.enum(['notice', 'awayUntil', 'testCall']))
      .optional()
      .describe('Sections that are absent from now on.'),
  })
  .meta({ id: 'PagePatch' });
export type PagePatch = z.infer<typeof pagePatchSchema>;
