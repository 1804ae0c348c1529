import { z } from 'zod';
import { idSchema } from '../../base/ids.js';
import { hookupSchema } from './hookup.js';

const common = { id: idSchema, hookup: hookupSchema.optional() };

/** One gravimetric point of a block-moisture calibration. */
export const calibrationPointSchema = z
  .strictObject({
    volts: z.number().min(0).max(10),
    waterContentM3PerM3: z.number().min(0).max(1),
  })
  .meta({ id: 'CalibrationPoint' });
export type CalibrationPoint = z.infer<typeof calibrationPointSchema>;

/** Two points or more in any order. Whether a monotone curve goes through them is checked when they are used. */
const calibrationSchema = z
  .array(calibrationPointSchema)
  .min(2, 'expected two calibration points or more')
  .max(200);

export const probeSchema = z
  .discriminatedUnion('kind', [
    z.strictObject({ ...common, kind: z.literal('air-temperature'), bench: idSchema }),
    z.strictObject({ ...common, kind: z.literal('relative-humidity'), bench: idSchema }),
    z.strictObject({
      ...common,
      kind: z.literal('light'),
      bench: idSchema,
      unit: z.enum(['lx', 'W/m2']).default('lx'),
    }),
    z.strictObject({
      ...common,
      kind: z.literal('block-moisture'),
      tray: idSchema
        .optional()
        .describe('Where the witness block stands at the start; later by the attach command.'),
      calibration: calibrationSchema.optional(),
    }),
    z.strictObject({
      ...common,
      kind: z.literal('tray-weight'),
      tray: idSchema.optional().describe('The tray on the scale at the start; later by the attach command.'),
      emptyTrayG: z
        .number()
        .min(0)
        .max(50_000)
        .optional()
        .describe('The tray alone, no blocks; learned when absent.'),
    }),
  ])
  .meta({ id: 'Probe' });

export type ProbeConfig = z.infer<typeof probeSchema>;
export type ProbeKind = ProbeConfig['kind'];
