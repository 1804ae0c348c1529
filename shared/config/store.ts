import { z } from 'zod';

/** Where readings are kept. */
export const storeSchema = z
  .strictObject({
    folder: z.string().min(1).default('data').describe('Folder of the embedded store.'),
  })
  .meta({ id: 'Store' });
export type StoreConfig = z.infer<typeof storeSchema>;
