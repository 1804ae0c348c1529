import { z } from 'zod';
import { idSchema, instantSchema } from '../base/ids.js';
import { noteSchema } from '../base/note.js';
import { alarmTransitionSchema, callSchema } from '../facts/alarm.js';
import { roundNoticeSchema } from '../facts/round-notice.js';
import { statusSchema } from '../facts/status.js';
import { trayEventSchema } from '../facts/tray-life.js';
import { wateringSchema } from '../facts/watering.js';

/** What people told, and until when it can be taken back, or why it stays. */
const journalUndoSchema = z
  .union([
    z.strictObject({ ref: idSchema.describe('Undo names it.'), until: instantSchema }),
    z.strictObject({ ref: idSchema, stays: z.string().describe('Why it can not be taken back.') }),
  ])
  .meta({ id: 'JournalUndo' });
export type JournalUndo = z.infer<typeof journalUndoSchema>;

const entry = {
  at: instantSchema,
  undo: journalUndoSchema.optional().describe('Absent on what nobody told, or told more than a day ago.'),
};

/** One line of the journal: something that happened or was said. */
export const journalEntrySchema = z
  .discriminatedUnion('kind', [
    z.strictObject({ ...entry, kind: z.literal('alarm'), transition: alarmTransitionSchema }),
    z.strictObject({ ...entry, kind: z.literal('call'), call: callSchema }),
    z.strictObject({ ...entry, kind: z.literal('round-notice'), notice: roundNoticeSchema }),
    z.strictObject({
      ...entry,
      kind: z.literal('watering'),
      watering: wateringSchema,
      undone: z.literal(true).optional(),
    }),
    z.strictObject({
      ...entry,
      kind: z.literal('tray-event'),
      event: trayEventSchema,
      undone: z.literal(true).optional(),
    }),
    z.strictObject({ ...entry, kind: z.literal('tray-event-undone'), event: trayEventSchema }),
    z.strictObject({
      ...entry,
      kind: z.literal('note'),
      ...noteSchema.shape,
      undone: z.literal(true).optional(),
    }),
    z.strictObject({ ...entry, kind: z.literal('note-undone'), note: noteSchema }),
    z.strictObject({ ...entry, kind: z.literal('ask'), trays: z.array(idSchema), sentence: z.string() }),
    z.strictObject({
      ...entry,
      kind: z.literal('probe-drift'),
      probe: idSchema,
      driftM3PerM3: z.number(),
    }),
    z.strictObject({ ...entry, kind: z.literal('status'), status: statusSchema }),
  ])
  .meta({ id: 'JournalEntry' });
export type JournalEntry = z.infer<typeof journalEntrySchema>;

export const journalAnswerSchema = z
  .strictObject({
    entries: z.array(journalEntrySchema).describe('Newest first.'),
    more: z.boolean().describe('True when older ones were left out; ask again with `to` at the oldest.'),
  })
  .meta({ id: 'JournalAnswer' });
export type JournalAnswer = z.infer<typeof journalAnswerSchema>;
