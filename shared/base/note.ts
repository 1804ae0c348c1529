import { z } from 'zod';
import { idSchema, instantSchema } from './ids.js';

/** Name of a kept photo: nothing but these letters, so that it can stand in an address. */
export const photoIdSchema = z
  .string()
  .regex(/^[0-9a-f]{24}$/, { error: 'expected the 24 letters of a photo that the page has kept' })
  .meta({ id: 'PhotoId' });

/** What somebody wrote down, of the farm or of a tray, with a photo where there is one. */
export const noteSchema = z
  .strictObject({
    at: instantSchema,
    tray: idSchema.optional(),
    by: z.string().optional(),
    text: z.string(),
    photo: photoIdSchema.optional().describe('The page serves it at /api/photo/ID.'),
  })
  .meta({ id: 'Note' });
export type Note = z.infer<typeof noteSchema>;
