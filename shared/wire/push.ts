import { z } from 'zod';
import { idSchema, instantSchema } from '../base/ids.js';

/** Bytes of a P-256 point uncompressed, and of the secret beside it (RFC 8291 §3.1 and 3.2), as base64url without padding. */
const POINT_LETTERS = 87;
const SECRET_LETTERS = 22;
const MOST_ENDPOINT_LETTERS = 2000;
const MOST_PHONES_NAME = 40;

const base64url = (letters: number) =>
  z.string().regex(new RegExp(`^[A-Za-z0-9_-]{${letters}}$`), `expected ${letters} letters of base64url`);

/** What a browser gives whoever may push to it (Push API, `PushSubscription.toJSON()`). */
export const pushSubscriptionSchema = z
  .strictObject({
    endpoint: z
      .url({ protocol: /^https$/, error: 'expected the https address of a push service' })
      .max(MOST_ENDPOINT_LETTERS),
    expirationTime: z.number().nullable().optional(),
    keys: z.strictObject({ p256dh: base64url(POINT_LETTERS), auth: base64url(SECRET_LETTERS) }),
  })
  .meta({ id: 'PushSubscription' });
export type PushSubscriptionKeys = z.infer<typeof pushSubscriptionSchema>;

/** What a phone's page asks of the house about being called by push. */
export const pushRequestSchema = z
  .discriminatedUnion('do', [
    z.strictObject({
      do: z.literal('begin'),
      subscription: pushSubscriptionSchema,
      name: z.string().max(MOST_PHONES_NAME).describe('Whose phone it is; may be empty.'),
    }),
    z.strictObject({ do: z.literal('look'), endpoint: z.string().max(MOST_ENDPOINT_LETTERS) }),
    z.strictObject({ do: z.literal('try'), endpoint: z.string().max(MOST_ENDPOINT_LETTERS) }),
    z.strictObject({ do: z.literal('end'), endpoint: z.string().max(MOST_ENDPOINT_LETTERS) }),
  ])
  .meta({ id: 'PushRequest' });
export type PushRequest = z.infer<typeof pushRequestSchema>;

/** A phone that is called by push, as it is named and known; where it is pushed to stays in the house. */
export const pushedPhoneSchema = z.strictObject({
  name: z.string(),
  sinceAt: instantSchema,
  lastTakenAt: instantSchema.optional().describe('When its push service last took a message.'),
  trouble: z.string().optional().describe('Why messages to it wait.'),
});
export type PushedPhone = z.infer<typeof pushedPhoneSchema>;

/** The answer to a phone's page. */
export const pushAnswerSchema = z
  .strictObject({
    publicKey: base64url(POINT_LETTERS).describe('The house, to the push service (RFC 8292 §3.2).'),
    phone: pushedPhoneSchema.optional().describe('The one that asked; absent: it is not called.'),
    phones: z.array(pushedPhoneSchema).describe('All that are called.'),
    problem: z.string().optional().describe('Why what was asked for could not be done.'),
  })
  .meta({ id: 'PushAnswer' });
export type PushAnswer = z.infer<typeof pushAnswerSchema>;

/** One push message, before it is encrypted for its phone: what the notification shows and where it leads. */
export const pushMessageSchema = z
  .strictObject({
    type: z.enum(['call', 'round', 'ask', 'test-call']),
    id: idSchema.describe('The same as over MQTT.'),
    at: instantSchema,
    farm: idSchema,
    sentence: z.string().min(1),
    language: z.string().describe('Of the sentence, BCP 47.'),
    tag: z.string().describe('A later message of the same tag takes the place of the earlier on the screen.'),
  })
  .meta({ id: 'PushMessage' });
export type PushMessage = z.infer<typeof pushMessageSchema>;
