import { z } from 'zod';
import { idSchema, instantSchema } from '../base/ids.js';
import { photoIdSchema } from '../base/note.js';
import { coverSchema, trayFields } from '../config/trays.js';
import { alarmKindSchema } from '../facts/alarm.js';
import { lookLevelSchema } from '../facts/tray-life.js';
import { trayLineSchema } from '../facts/tray-line.js';
import type { AsOfNowName } from './command-time.js';

const sender = {
  ref: idSchema.optional().describe('Chosen by the sender; the answer carries it, and undo names it.'),
  by: z.string().min(1).max(40).optional().describe('Who says so.'),
};
/** What happened at some time, and may be told later. */
const base = { ...sender, at: instantSchema.optional().describe('When it happened; now when absent.') };
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

/** A command that counts from the moment it is told: `at` has no meaning there, and is refused rather than ignored. */
function asOfNow<Name extends AsOfNowName, Fields extends z.ZodRawShape>(name: Name, fields: Fields) {
  return z.strictObject(
    { ...sender, do: z.literal(name), ...fields },
    {
      error: (issue) =>
        issue.code === 'unrecognized_keys' && (issue.keys as readonly string[]).includes('at')
          ? `"${name}" counts from the moment it is told; leave "at" out`
          : undefined,
    },
  );
}

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
      trays: z.array(idSchema).min(1).max(2000).optional().describe('Several trays by name.'),
      bench: idSchema.optional(),
      blockSideMm: z.number().optional(),
      ml: z.number().min(0).optional().describe('Per tray; absent: filled, excess tipped out.'),
    }),
    z.strictObject({
      ...base,
      do: z.literal('round-done'),
      except: z.array(idSchema).default([]).describe('Trays of the notice that were not watered.'),
    }),
    asOfNow('away', { until: instantSchema }),
    asOfNow('back', {}),
    asOfNow('acknowledge', { kind: alarmKindSchema.optional(), of: z.string().optional() }),
    asOfNow('test-call', {}),
    asOfNow('test-seen', {
      way: idSchema.optional().describe('Way by which the test call came: "mqtt", or the id of a webhook.'),
    }),
    asOfNow('shelve', { ...alarmName, until: instantSchema }),
    asOfNow('unshelve', alarmName),
    asOfNow('out-of-service', alarmName),
    asOfNow('in-service', alarmName),
    z.strictObject({
      ...base,
      do: z.literal('note'),
      tray: idSchema.optional(),
      text: z.string().min(1).max(2000),
      photo: photoIdSchema.optional().describe('One that the page has kept already.'),
    }),
    asOfNow('list-trays', {}),
    asOfNow('undo', { undo: idSchema.describe('The ref of a command of the last day.') }),
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
    kept: z
      .literal(false)
      .optional()
      .describe(
        'The disk takes nothing: what was done is lost if the power goes. Absent: it is on the disk.',
      ),
    trays: z
      .array(trayLineSchema)
      .optional()
      .describe('Answers "list-trays": all that stand, bench by bench.'),
  })
  .meta({ id: 'Answer' });
export type Answer = z.infer<typeof answerSchema>;
