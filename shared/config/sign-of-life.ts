import { z } from 'zod';

/** An address elsewhere that expects to hear from the monitor, and raises the alarm when it does not. */
export const signOfLifeSchema = z
  .strictObject({
    url: z
      .url({ protocol: /^https?$/, error: 'expected a URL such as "https://watch.example/alder-row"' })
      .describe('Gets a POST with {"farm","at","ok","wrong"}.'),
    everyMin: z
      .number()
      .min(1)
      .max(1440)
      .default(5)
      .describe('Minutes between two; let the address wait for two or three times as long.'),
  })
  .meta({ id: 'SignOfLife' });
export type SignOfLifeConfig = z.infer<typeof signOfLifeSchema>;
