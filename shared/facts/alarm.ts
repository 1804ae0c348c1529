import { z } from 'zod';
import { idSchema, instantSchema } from '../base/ids.js';

/** States of IEC 62682 / ISA-18.2. */
export const alarmStateSchema = z
  .enum([
    'normal',
    'unacknowledged',
    'acknowledged',
    'returned-to-normal-unacknowledged',
    'shelved',
    'suppressed-by-design',
    'out-of-service',
  ])
  .meta({ id: 'AlarmState' });
export type AlarmState = z.infer<typeof alarmStateSchema>;

/**
 * What a call is about. refill: will not reach the coming round, or was due and was not watered. dry: a tenth of the
 * blocks at the refill point. wet: too wet for too long. cover: still on long after germination. The others are about
 * the watchman itself or the bench's climate.
 */
export const alarmKindSchema = z
  .enum(['refill', 'dry', 'wet', 'cover', 'probe', 'board', 'monitor', 'store', 'broker', 'temperature'])
  .meta({ id: 'AlarmKind' });
export type AlarmKind = z.infer<typeof alarmKindSchema>;

/** One transition of one alarm. Exactly one of tray, bench, source says whom it concerns. */
export const alarmTransitionSchema = z
  .strictObject({
    at: instantSchema,
    kind: alarmKindSchema,
    state: alarmStateSchema,
    tray: idSchema.optional(),
    bench: idSchema.optional(),
    source: z.string().optional().describe('A probe, a board, "monitor", "store" or "broker".'),
    reason: z.string().optional().describe('Short code of the rule that spoke, e.g. "will-not-reach-round".'),
    sentence: z.string().optional().describe('Plain words fit for a lock screen.'),
    by: z.string().optional().describe('Who acknowledged, shelved or released.'),
    shelvedUntil: instantSchema.optional(),
  })
  .meta({ id: 'AlarmTransition' });
export type AlarmTransition = z.infer<typeof alarmTransitionSchema>;

/** One call to people: the trays of one bench and moment together, or one thing of the watchman. */
export const callSchema = z
  .strictObject({
    at: instantSchema,
    kind: alarmKindSchema,
    bench: idSchema.optional(),
    trays: z.array(idSchema),
    source: z.string().optional(),
    again: z.boolean().describe('True when it repeats a call that nobody acknowledged.'),
    about: z
      .array(z.strictObject({ kind: alarmKindSchema, of: z.string().describe('A tray, bench or source.') }))
      .optional()
      .describe(
        'Every alarm that a call after the quiet hours sums up, the first one of `kind`; absent in any other call.',
      ),
    sentence: z.string(),
  })
  .meta({ id: 'Call' });
export type Call = z.infer<typeof callSchema>;
