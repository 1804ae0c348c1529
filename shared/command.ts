import { z } from 'zod';
import { alarmKindSchema } from './alarm.js';
import { coverSchema, trayFields } from './config/trays.js';
import { idSchema, instantSchema } from './ids.js';
import { lookLevelSchema } from './tray-life.js';

const base = {
  ref: idSchema.optional().describe('Chosen by the sender; the answer carries it, and undo names it.'),
  at: instantSchema.optional().describe('When it happened; now when absent.'),
  by: z.string().min(1).max(40).optional().describe('Who says so.'),
};
const tray = { tray: idSchema };
const usualCount = {
  blockCount: trayFields.blockCount
    .optional()
    .describe('The usual number when absent: 280 minis, 72 of 38 mm, 48 of 51 mm; other sizes need it.'),
};
const alarmName = {
  kind: alarmKindSchema,
  of: z.string().min(1).max(40).describe('The tray, bench or source it concerns.'),
};

/** Everything that people tell the house: over MQTT, on the command line, on the page. Each is answered. */
export const commandSchema = z
  .discriminatedUnion('do', [
    z.strictObject({ ...base, do: z.literal('new-tray'), ...tray, ...trayFields, ...usualCount }),
    z.strictObject({ ...base, do: z.literal('sown'), ...tray }),
    z.strictObject({ ...base, do: z.literal('germinated'), ...tray }),
    z.strictObject({ ...base, do: z.literal('cover'), ...tray, cover: coverSchema }),
    z.strictObject({ ...base, do: z.literal('move'), ...tray, bench: idSchema }),
    z.strictObject({
      ...base,
      do: z.literal('pot-on'),
      ...tray,
      toTray: idSchema,
      ...z.object(trayFields).partial().shape,
    }),
    z.strictObject({ ...base, do: z.literal('looked'), ...tray, level: lookLevelSchema }),
    z.strictObject({ ...base, do: z.literal('weighed'), ...tray, grams: z.number().gt(0) }),
    z.strictObject({ ...base, do: z.literal('ready-for-water'), ...tray }),
    z.strictObject({ ...base, do: z.literal('attach'), probe: idSchema, ...tray }),
    z.strictObject({ ...base, do: z.literal('end'), ...tray }),
    z.strictObject({
      ...base,
      do: z.literal('watered'),
      tray: idSchema.optional(),
      bench: idSchema.optional(),
      blockSideMm: z.number().optional(),
      ml: z.number().min(0).optional().describe('Per tray; absent: filled, excess tipped out.'),
    }),
    z.strictObject({
      ...base,
      do: z.literal('round-done'),
      except: z.array(idSchema).default([]).describe('Trays of the notice that were not watered.'),
    }),
    z.strictObject({ ...base, do: z.literal('away'), until: instantSchema }),
    z.strictObject({ ...base, do: z.literal('back') }),
    z.strictObject({
      ...base,
      do: z.literal('acknowledge'),
      kind: alarmKindSchema.optional(),
      of: z.string().optional(),
    }),
    z.strictObject({ ...base, do: z.literal('test-call') }),
    z.strictObject({
      ...base,
      do: z.literal('test-seen'),
      way: idSchema.optional().describe('Way by which the test call came: "mqtt", or the id of a webhook.'),
    }),
    z.strictObject({ ...base, do: z.literal('shelve'), ...alarmName, until: instantSchema }),
    z.strictObject({ ...base, do: z.literal('unshelve'), ...alarmName }),
    z.strictObject({ ...base, do: z.literal('out-of-service'), ...alarmName }),
    z.strictObject({ ...base, do: z.literal('in-service'), ...alarmName }),
    z.strictObject({
      ...base,
      do: z.literal('note'),
      tray: idSchema.optional(),
      text: z.string().min(1).max(2000),
    }),
    z.strictObject({
      ...base,
      do: z.literal('undo'),
      undo: idSchema.describe('The ref of a command of the last day.'),
    }),
  ])
  .meta({ id: 'Command' });
export type Command = z.infer<typeof commandSchema>;
export type CommandName = Command['do'];

/** The answer to a command: what it did, or why it was refused and what to do. */
export const answerSchema = z
  .strictObject({
    ref: idSchema,
    at: instantSchema,
    ok: z.boolean(),
    code: z.string().describe('"done", or a stable code of the refusal.'),
    sentence: z.string().describe('What was done, or why not and what to do.'),
  })
  .meta({ id: 'Answer' });
export type Answer = z.infer<typeof answerSchema>;
