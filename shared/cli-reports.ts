import { z } from 'zod';
import { alarmTransitionSchema } from './alarm.js';
import { idSchema, instantSchema } from './ids.js';

/** What `drybell check --json` prints. */
export const checkReportSchema = z
  .strictObject({
    file: z.string(),
    farm: idSchema,
    findings: z.array(
      z.strictObject({
        what: z.string().describe('Part, or part and its id: "page", "board kit".'),
        ok: z.boolean(),
        better: z.literal(true).optional().describe('Advice: it will do, and would be better otherwise.'),
        sentence: z.string().describe('What works, or what was expected and what to do.'),
        line: z
          .int()
          .min(1)
          .optional()
          .describe('Where the configuration says it; absent for the machine itself.'),
        column: z.int().min(1).optional(),
        name: z.string().optional().describe('The same by name, such as "trays[celery-1].bench".'),
      }),
    ),
  })
  .meta({ id: 'CheckReport' });
export type CheckReport = z.infer<typeof checkReportSchema>;

/** What `drybell status --json` prints. Times are of this machine's clock, in the demo of the farm's. */
export const statusReportSchema = z
  .strictObject({
    at: instantSchema,
    farm: idSchema,
    well: z.boolean().describe('False wherever somebody should look; the exit status says the same.'),
    monitor: z.strictObject({
      state: z
        .enum(['runs', 'unheard', 'ended'])
        .describe('unheard: a monitor writes to the store, but is not found at the broker.'),
      broker: z.string().describe('Address of the broker at which it was looked for.'),
      drive: z.enum(['live', 'demo', 'replay']).optional(),
      since: instantSchema.optional().describe('When it last said that it runs.'),
      sentence: z.string().optional().describe('Why it is not found, and what to do.'),
      troubles: z
        .array(z.string())
        .describe('What could not be read at its last start, and what became of it: a sentence each.'),
    }),
    configuration: z.string().optional().describe('Its file; absent when only the broker was named.'),
    store: z
      .strictObject({
        folder: z.string(),
        bytes: z.int().optional().describe('Absent until something was kept.'),
        aside: z
          .array(z.string())
          .describe('What could not be read and was set aside: files, and states by name.'),
        sentence: z.string().optional().describe('Why it could not be looked at, and what to do.'),
      })
      .optional(),
    probes: z.array(
      z.strictObject({
        id: idSchema,
        newestAt: instantSchema.optional().describe('Of its newest reading; absent before the first.'),
      }),
    ),
    outgoing: z
      .array(
        z.strictObject({
          to: z.string().describe('"broker", or the id of a webhook.'),
          waiting: z.int(),
          oldestAt: instantSchema.optional(),
        }),
      )
      .describe('What waits to be sent, on each way out.'),
    alarms: z.array(alarmTransitionSchema).describe('All that are not normal, as they last stood.'),
  })
  .meta({ id: 'StatusReport' });
export type StatusReport = z.infer<typeof statusReportSchema>;
