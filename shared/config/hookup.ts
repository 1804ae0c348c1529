import { z } from 'zod';
import { idSchema } from '../ids.js';

/** A small board on a serial port that reads probes. */
export const boardSchema = z.strictObject({ id: idSchema }).meta({ id: 'Board' });
export type BoardConfig = z.infer<typeof boardSchema>;

/** Where and how a probe is connected. Absent on probes whose readings come from elsewhere (replay). */
export const hookupSchema = z.strictObject({ board: idSchema }).meta({ id: 'Hookup' });
export type Hookup = z.infer<typeof hookupSchema>;
