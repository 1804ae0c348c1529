import { z } from 'zod';

/** The page that the same process serves. */
export const pageSchema = z
  .strictObject({
    listenHost: z.string().default('127.0.0.1'),
    listenPort: z.int().min(0).max(65535).default(8118),
  })
  .meta({ id: 'Page' });
export type PageConfig = z.infer<typeof pageSchema>;
