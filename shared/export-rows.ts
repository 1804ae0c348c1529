import { z } from 'zod';
import { idSchema, instantSchema } from './base/ids.js';
import { photoIdSchema } from './base/note.js';
import { alarmKindSchema, alarmStateSchema } from './facts/alarm.js';
import { flagSchema, rawUnitSchema } from './facts/reading.js';
import { roundNoticeSchema } from './facts/round-notice.js';
import { trayEventSchema } from './facts/tray-life.js';
import { wateringSchema } from './facts/watering.js';

/**
 * Rows of `drybell export`, by the name of the table: the columns of the CSV and the keys of a JSON line are the same, in this
 * order. Units stand in the names, instants are UTC; what is not known is absent, in the CSV an empty cell.
 */

const hours = z.number().nullish().describe('Null: beyond the horizon of 120 h.');
const water = z.number().optional();
const by = z.string().optional().describe('Who said so.');
const undone = z.boolean().describe('True where an undo struck it out later.');
const trayIds = z.array(idSchema);

const due = roundNoticeSchema.shape.due.element.shape;
const { at, tray, source, ml, askedMl, takenUpMl } = wateringSchema.shape;

export const exportRowSchemas = {
  readings: z
    .strictObject({
      at: instantSchema,
      probe: idSchema,
      rawValue: z.number().optional(),
      rawUnit: rawUnitSchema,
      waterContentM3PerM3: water,
      flag: flagSchema,
      flagReasons: z.array(z.string()),
      calibrationId: z.string().optional(),
    })
    .meta({ id: 'ExportedReading' }),
  forecasts: z
    .strictObject({
      at: instantSchema,
      tray: idSchema,
      waterContentM3PerM3: z.number(),
      waterContentSdM3PerM3: water,
      hoursToRefillP10H: hours,
      hoursToRefillP50H: hours,
      hoursToRefillP90H: hours,
      driestTenthP10H: hours,
      driestTenthP50H: hours,
      driestTenthP90H: hours,
      basis: z.string().optional(),
    })
    .meta({ id: 'ExportedForecast' }),
  waterings: z
    .strictObject({ at, tray, source, ml, askedMl, takenUpMl, by, undone })
    .meta({ id: 'ExportedWatering' }),
  calls: z
    .strictObject({
      at: instantSchema,
      kind: alarmKindSchema,
      bench: idSchema.optional(),
      trays: trayIds,
      source: z.string().optional(),
      again: z.boolean().describe('True when it repeats a call that nobody acknowledged.'),
      sentence: z.string(),
    })
    .meta({ id: 'ExportedCall' }),
  alarms: z
    .strictObject({
      at: instantSchema,
      kind: alarmKindSchema,
      state: alarmStateSchema,
      tray: idSchema.optional(),
      bench: idSchema.optional(),
      source: z.string().optional(),
      reason: z.string().optional(),
      by,
      shelvedUntil: instantSchema.optional(),
      sentence: z.string().optional(),
    })
    .meta({ id: 'ExportedAlarm' }),
  rounds: z
    .strictObject({
      at: instantSchema,
      round: instantSchema,
      dueTrays: trayIds,
      canWaitTrays: trayIds,
      awayUntil: instantSchema.optional(),
      sentence: z.string().optional(),
    })
    .meta({ id: 'ExportedRound' }),
  'round-doses': z
    .strictObject({
      at: instantSchema,
      round: instantSchema,
      tray: idSchema,
      bench: due.bench,
      crop: due.crop,
      blockSideMm: due.blockSideMm,
      doseMl: z.number(),
      pours: z.int().optional(),
      pourMl: z.number().optional(),
      soakMin: z.number().optional(),
      shortMl: z.number().optional(),
      hoursToRefillP10H: hours,
      hoursToRefillP50H: hours,
      hoursToRefillP90H: hours,
      dryAt: instantSchema.optional(),
      perhapsWatered: due.perhapsWatered,
    })
    .meta({ id: 'ExportedRoundDose' }),
  questions: z
    .strictObject({ at: instantSchema, trays: trayIds, sentence: z.string() })
    .meta({ id: 'ExportedQuestion' }),
  answers: z
    .strictObject({
      at: instantSchema,
      ref: idSchema,
      ok: z.boolean(),
      code: z.string(),
      sentence: z.string().describe('What a command did, or why it was refused.'),
    })
    .meta({ id: 'ExportedAnswer' }),
  notes: z
    .strictObject({
      at: instantSchema,
      tray: idSchema.optional(),
      by,
      undone,
      text: z.string(),
      photo: photoIdSchema.optional(),
    })
    .meta({ id: 'ExportedNote' }),
  'tray-events': z
    .strictObject({
      at: instantSchema,
      tray: idSchema,
      event: z.enum(trayEventSchema.options.map(({ shape }) => shape.event.value)),
      by,
      undone,
      details: z.record(z.string(), z.unknown()).optional().describe('What else that event says.'),
    })
    .meta({ id: 'ExportedTrayEvent' }),
  'dry-downs': z
    .strictObject({
      startedAt: instantSchema,
      endedAt: instantSchema,
      tray: idSchema,
      bench: idSchema.optional(),
      blockSideMm: z.number().optional(),
      blockCount: z.number().optional(),
      crop: z.string().optional(),
      medium: z.string().optional(),
      ageDays: z.number().optional(),
      stage: z.enum(['germinating', 'growing']).optional(),
      covered: z.boolean().optional(),
      startWaterContentM3PerM3: z.number(),
      endWaterContentM3PerM3: z.number(),
      refillReachedAt: instantSchema.optional(),
      refillPointM3PerM3: water,
      meanTemperatureC: z.number().optional(),
      meanVpdKPa: z.number().optional(),
      meanSolarWPerM2: z.number().optional(),
      hasProbe: z.boolean(),
    })
    .meta({ id: 'ExportedDryDown' }),
  'curve-samples': z
    .strictObject({
      startedAt: instantSchema,
      tray: idSchema,
      bench: idSchema.optional(),
      blockSideMm: z.number().optional(),
      elapsedH: z.number(),
      waterContentM3PerM3: z.number(),
    })
    .meta({ id: 'ExportedCurveSample' }),
  'probe-drifts': z
    .strictObject({ at: instantSchema, probe: idSchema, driftM3PerM3: z.number() })
    .meta({ id: 'ExportedProbeDrift' }),
} as const;

export type ExportName = keyof typeof exportRowSchemas;
export type ExportRow<Name extends ExportName = ExportName> = z.infer<(typeof exportRowSchemas)[Name]>;
