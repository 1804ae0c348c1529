import { z } from 'zod';
import { idSchema, instantSchema } from './ids.js';

/** The way of calls over the broker; the other ways are the webhooks, by their ids. */
export const MQTT_WAY = 'mqtt';

/** A call that is only a test, as it goes out by one way. No alarm stands behind it. */
export const testCallSchema = z
  .strictObject({
    id: idSchema,
    at: instantSchema,
    test: idSchema.describe('The ref of the command that asked for it.'),
    way: idSchema.describe(`"${MQTT_WAY}", or the id of the webhook by which it went.`),
    by: z.string().optional().describe('Who asked for it.'),
    sentence: z.string(),
    answer: z
      .strictObject({ do: z.literal('test-seen'), way: idSchema })
      .describe('The command that says "it came", to be sent back as it is.'),
  })
  .meta({ id: 'TestCall' });
export type TestCall = z.infer<typeof testCallSchema>;

/** How far a test call has come by one way. */
export const testReportSchema = z
  .strictObject({
    test: idSchema,
    way: idSchema.optional().describe('Absent: somebody answered without saying by which way it came.'),
    state: z
      .enum(['sent', 'not-taken', 'handed-over', 'seen'])
      .describe(
        'sent: it is on its way. not-taken: the other side did not take it, `why` says more; it may be tried again. handed-over: the broker or gateway has it. seen: somebody answered.',
      ),
    afterMs: z.number().min(0).describe('Milliseconds since the test call was made.'),
    by: z.string().optional().describe('Who answered.'),
    why: z.string().optional(),
  })
  .meta({ id: 'TestReport' });
export type TestReport = z.infer<typeof testReportSchema>;
