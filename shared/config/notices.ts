import { z } from 'zod';
import { timeOfDaySchema } from '../base/ids.js';

const roundTimes = z.array(timeOfDaySchema).max(12);

/** Rounds: the same every day, or per weekday (an absent weekday has none). */
export const roundsSchema = z
  .union([
    roundTimes.min(1, 'expected at least one round'),
    z.strictObject({
      mon: roundTimes.optional(),
      tue: roundTimes.optional(),
      wed: roundTimes.optional(),
      thu: roundTimes.optional(),
      fri: roundTimes.optional(),
      sat: roundTimes.optional(),
      sun: roundTimes.optional(),
    }),
  ])
  .meta({ id: 'Rounds' });
export type Rounds = z.infer<typeof roundsSchema>;

const quietSpan = z
  .strictObject({ from: timeOfDaySchema, to: timeOfDaySchema })
  .refine(({ from, to }) => from !== to, {
    path: ['to'],
    message: 'expected another time than "from"; leave quietHours out to have none',
  });

/** Quiet hours on the farm's clock: the same every day, or per weekday of their begin (an absent weekday has none). */
export const quietHoursSchema = z
  .union([
    quietSpan,
    z
      .strictObject({
        // a span that lacks its other half is told so, and not that "from" is unknown
        from: z.never().optional(),
        to: z.never().optional(),
        mon: quietSpan.optional(),
        tue: quietSpan.optional(),
        wed: quietSpan.optional(),
        thu: quietSpan.optional(),
        fri: quietSpan.optional(),
        sat: quietSpan.optional(),
        sun: quietSpan.optional(),
      })
      .refine((days) => Object.keys(days).length > 0, {
        message: 'expected "from" and "to", or weekdays with them; leave quietHours out to have none',
      }),
  ])
  .meta({ id: 'QuietHours' });
export type QuietHours = z.infer<typeof quietHoursSchema>;

/** What is said before rounds and between them. */
export const noticesSchema = z
  .strictObject({
    leadMin: z
      .number()
      .min(5)
      .max(600)
      .default(75)
      .describe('How long before a round its notice goes out, minutes.'),
    riskPct: z
      .number()
      .min(0.5)
      .max(50)
      .default(20)
      .describe(
        'A tray is due when its driest tenth will not last, at this risk, until the round after the coming one.',
      ),
    graceMin: z
      .number()
      .min(15)
      .max(600)
      .default(120)
      .describe(
        'How long after a round a due tray may stay unwatered before that counts as evident, minutes.',
      ),
    callAheadH: z
      .number()
      .min(1)
      .max(12)
      .default(3.5)
      .describe('A call about a tray that will not reach the coming round comes this long before, hours.'),
    callAgainMin: z
      .number()
      .min(15)
      .max(1440)
      .default(60)
      .describe('A call that nobody has seen is repeated after this long, but only when things got worse.'),
    coverDaysAfterGermination: z
      .number()
      .min(0)
      .max(60)
      .default(1.5)
      .describe('A cover still on this long after germination is worth a call, days.'),
    coverDoubtedAfterDays: z
      .number()
      .min(1)
      .max(60)
      .default(5)
      .describe('A cover that nobody confirmed for this long is no longer taken for sure, days.'),
    mostPoursPerRound: z
      .int()
      .min(1)
      .max(12)
      .default(2)
      .describe(
        'How often one tray is poured at a round, soaks between; a tray that needs more is told not to be full after it.',
      ),
    wetHours: z
      .number()
      .min(6)
      .max(240)
      .default(24)
      .describe(
        'Germinated, uncovered blocks that stay as wet as just watered for this long risk damping-off.',
      ),
    quietHours: quietHoursSchema
      .optional()
      .describe(
        'From when to when calls that can wait do wait, to be summed up in one at the end; what can lose seedlings before then is called all the same. A "to" before "from" is of the next day. Absent: never.',
      ),
  })
  .meta({ id: 'Notices' });
export type NoticesConfig = z.infer<typeof noticesSchema>;

/** Units on screens and in sentences; everything stored stays SI. */
export const unitsSchema = z
  .strictObject({
    volume: z.enum(['mL', 'fl oz']).default('mL'),
    temperature: z.enum(['C', 'F']).default('C'),
    length: z.enum(['mm', 'in']).default('mm'),
    weight: z
      .enum(['g', 'oz', 'lb'])
      .default('g')
      .describe('Of trays on scales; lb is told as pounds and ounces.'),
  })
  .meta({ id: 'Units' });
export type UnitsConfig = z.infer<typeof unitsSchema>;
