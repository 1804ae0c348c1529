import { z } from 'zod';
import { idSchema } from './ids.js';

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
