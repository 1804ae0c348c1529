import { z } from 'zod';
import { idSchema, instantSchema } from '../base/ids.js';
import { alarmTransitionSchema } from '../facts/alarm.js';

/** One of a farm's houses, as its monitor tells it over the broker. */
export const pageHouseSchema = z
  .strictObject({
    farm: idSchema,
    isThis: z.boolean().describe('The house that serves this page.'),
    page: z.string().optional().describe('Where its own page is.'),
    state: z
      .enum(['watching', 'silent', 'stopped', 'never-heard'])
      .describe(
        'stopped: its monitor said so, or its broker for it. silent: it says to be awake and has said nothing for long.',
      ),
    heardAt: instantSchema.optional().describe('Its last word, by the clock of who listened.'),
    sentence: z.string().optional().describe('What its monitor says of itself.'),
    isUnclear: z.boolean().describe('It says what this page does not understand: of another version.'),
    trayCount: z.int().min(0),
    round: z
      .strictObject({
        round: instantSchema,
        noticeAt: instantSchema,
        dueCount: z.int().min(0),
        wateredCount: z.int().min(0).describe('Of those, watered since the notice as far as heard.'),
        doseMl: z.number().min(0).describe('Of those that are not.'),
      })
      .optional(),
    awayUntil: instantSchema.optional(),
    next: z
      .strictObject({ tray: idSchema, dryAt: instantSchema })
      .optional()
      .describe('The tray whose driest tenth is first at the refill point.'),
    calls: z.array(alarmTransitionSchema).describe('Standing alarms, in whatever state but normal.'),
  })
  .meta({ id: 'PageHouse' });
export type PageHouse = z.infer<typeof pageHouseSchema>;

/** Why a broker is not heard; each is said in the language of who reads it. */
export const linkTroubleKindSchema = z.enum(['ended', 'login', 'certificate', 'not-reached', 'no-answer']);
export type LinkTroubleKind = z.infer<typeof linkTroubleKindSchema>;

/** All houses of a farm, those first that want somebody. */
export const housesAnswerSchema = z
  .strictObject({
    at: instantSchema,
    brokerAway: linkTroubleKindSchema.optional().describe('Why nothing is heard of any house now.'),
    houses: z.array(pageHouseSchema),
  })
  .meta({ id: 'HousesAnswer' });
export type HousesAnswer = z.infer<typeof housesAnswerSchema>;
