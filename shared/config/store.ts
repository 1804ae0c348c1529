import { z } from 'zod';
import { idSchema } from '../base/ids.js';

/** An InfluxDB 1.x server that keeps the history of one farm or of many boards. */
export const influxSchema = z
  .strictObject({
    url: z.url({ protocol: /^https?$/ }).describe('Such as http://127.0.0.1:8086.'),
    database: z
      .string()
      .regex(/^[A-Za-z0-9_-]{1,60}$/, 'expected 1 to 60 letters, digits, "-" or "_"')
      .default('drybell'),
    monitor: idSchema
      .default('monitor')
      .describe('Name of this monitor among those that write to the same database.'),
    username: z.string().min(1).optional(),
    password: z.string().optional(),
    requestTimeoutS: z.number().min(1).max(120).default(10),
    spoolLimitMb: z
      .number()
      .min(1)
      .max(100_000)
      .default(2000)
      .describe('How much may wait on this disk while the server is away.'),
  })
  .refine((influx) => (influx.username === undefined) === (influx.password === undefined), {
    path: ['username'],
    error: 'give username and password together',
  })
  .meta({ id: 'Influx' });
export type InfluxConfig = z.infer<typeof influxSchema>;

/** Where readings are kept. */
export const storeSchema = z
  .strictObject({
    folder: z.string().min(1).default('data').describe('Folder of the embedded store.'),
    readingsDays: z
      .number()
      .min(7)
      .max(36_500)
      .default(800)
      .describe(
        'Days that single readings are kept; their roll-ups and everything else stay. Two seasons and more.',
      ),
    influx: influxSchema.optional().describe('History goes to this server when given.'),
  })
  .meta({ id: 'Store' });
