import { z } from 'zod';
import { idSchema, instantSchema } from '../base/ids.js';
import { noteSchema } from '../base/note.js';
import { alarmTransitionSchema, callSchema } from '../facts/alarm.js';
import { roundNoticeSchema } from '../facts/round-notice.js';
import { trayEventSchema } from '../facts/tray-life.js';
import { wateringSchema } from '../facts/watering.js';

/**
 * What goes over MQTT besides the plain contract types. QoS 1 may deliver a message twice: both copies carry the same
 * `id`, and so does a retained message that is sent again after the broker lost its memory.
 */
const messageId = {
  id: idSchema.describe('The same in every copy of this message: seen before means nothing new.'),
};

/** State of one alarm, retained at its own topic. */
export const alarmMessageSchema = z
  .strictObject({ ...alarmTransitionSchema.shape, ...messageId })
  .meta({ id: 'AlarmMessage' });

/** A call to people. */
export const callMessageSchema = z
  .strictObject({
    ...callSchema.shape,
    ...messageId,
    over: z
      .boolean()
      .optional()
      .describe('True: it became untrue while the broker was away. For the record; nobody need act.'),
  })
  .meta({ id: 'CallMessage' });
export type CallMessage = z.infer<typeof callMessageSchema>;

/** A question to people: was this watered? */
export const askMessageSchema = z
  .strictObject({ ...messageId, at: instantSchema, trays: z.array(idSchema), sentence: z.string() })
  .meta({ id: 'AskMessage' });

/** The notice of the coming round, retained. */
export const roundMessageSchema = z
  .strictObject({ ...roundNoticeSchema.shape, ...messageId })
  .meta({ id: 'RoundMessage' });

export const wateringMessageSchema = z
  .strictObject({ ...wateringSchema.shape, ...messageId })
  .meta({ id: 'WateringMessage' });

/** Something that happened to a tray; at `…/undone` the same, struck out. */
export const trayEventMessageSchema = z
  .discriminatedUnion('event', [
    trayEventSchema.options[0].extend(messageId),
    ...trayEventSchema.options.slice(1).map((option) => option.extend(messageId)),
  ])
  .meta({ id: 'TrayEventMessage' });

export const noteMessageSchema = z
  .strictObject({
    ...messageId,
    ...noteSchema.shape,
    undone: z.literal(true).optional().describe('The note as it was told before; it counts no more.'),
  })
  .meta({ id: 'NoteMessage' });

/** One finished fall from a watering to the next. */
export const dryDownMessageSchema = z
  .strictObject({
    ...messageId,
    tray: idSchema,
    startedAt: instantSchema,
    endedAt: instantSchema,
    startWaterContentM3PerM3: z.number(),
    endWaterContentM3PerM3: z.number(),
    refillReachedAt: instantSchema
      .optional()
      .describe('When the mean block was at the refill point; absent: watered before.'),
    refillPointM3PerM3: z.number().optional().describe('What was held for the refill point at its end.'),
    meanTemperatureC: z.number().optional(),
    meanVpdKPa: z.number().optional(),
    meanSolarWPerM2: z.number().optional(),
    hasProbe: z.boolean(),
  })
  .meta({ id: 'DryDownMessage' });
export type DryDownMessage = z.infer<typeof dryDownMessageSchema>;

/** The sentence of a call, notice or question as plain text, fit for a lock screen. */
export const sayMessageSchema = z.string().min(1).meta({ id: 'SayMessage' });

/** Readings of one probe as a SenML pack, RFC 8428: the labels that we use. */
export const readingPackSchema = z
  .array(
    z.strictObject({
      bn: z.string().optional().describe('Base name `drybell:<farm>:<probe>:`, first record.'),
      bt: z.number().optional().describe('Base time, seconds since 1970, first record.'),
      n: z
        .enum([
          'voltage',
          'temperature',
          'humidity',
          'light',
          'mass',
          'water-content',
          'flag',
          'flag-reasons',
          'calibration',
        ])
        .describe('What it is; water-content in m3 of water per m3 of block, flag as QARTOD has it.'),
      u: z.enum(['V', 'Cel', '%RH', 'lx', 'W/m2', 'kg', '/']).optional(),
      v: z.number().optional(),
      vs: z.string().optional(),
      t: z.number().optional().describe('Seconds after the base time.'),
    }),
  )
  .min(1)
  .meta({ id: 'ReadingPack' });
