import { z } from 'zod';
import { idSchema } from '../base/ids.js';
import { MQTT_WAY } from '../base/test-call.js';
import { askedWordSchema, isSealed } from './asked-word.js';

/** True for an address that only this machine can reach: 127.0.0.0/8, ::1 or "localhost". */
export function isLoopback(host: string): boolean {
  return host === 'localhost' || host === '::1' || /^127(\.\d{1,3}){3}$/.test(host);
}

const fileSchema = z.string().min(1).optional();

/** Bytes of a webhook secret, as the Standard Webhooks specification wants it. */
const SECRET_BYTES = { least: 24, most: 64 };

/** Key bytes of a secret "whsec_<base64>"; undefined when it is none. */
export function webhookKey(secret: string): Uint8Array | undefined {
  const text = secret.replace(/^whsec_/, '');
  if (!/^[A-Za-z0-9+/]+={0,2}$/.test(text) || text.length % 4 !== 0) return undefined;
  const key = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
  return key.length >= SECRET_BYTES.least && key.length <= SECRET_BYTES.most ? key : undefined;
}

/** A program elsewhere that gets calls, notices, questions and alarms by HTTP POST: a gateway to SMS, mail, a siren. */
export const webhookSchema = z
  .strictObject({
    id: idSchema,
    url: z.url({ protocol: /^https?$/, error: 'expected a URL such as "https://gateway.example/drybell"' }),
    secret: z
      .string()
      .refine(
        (secret) => webhookKey(secret) !== undefined,
        'expected "whsec_" and 24 to 64 random bytes in base64, e.g. from: echo whsec_$(openssl rand -base64 24)',
      )
      .describe('Both sides know it; posts are signed with it (Standard Webhooks, HMAC-SHA256).'),
  })
  .meta({ id: 'Webhook' });
export type WebhookConfig = z.infer<typeof webhookSchema>;

/** What a client may do at the own broker. */
export const loginRightSchema = z.enum(['command', 'listen', 'deliver']);
export type LoginRight = z.infer<typeof loginRightSchema>;

/** One more user of the own broker. */
export const loginSchema = z
  .strictObject({
    user: z.string().min(1).max(80),
    password: askedWordSchema(1).describe('As `drybell password` prints it, or in clear.'),
    may: loginRightSchema.describe(
      'command: a phone, gives commands and hears everything; listen: a display, hears only; deliver: a gateway, brings readings and hears nothing of the farm.',
    ),
  })
  .meta({ id: 'BrokerLogin' });

/** How phones are called by push. */
export const pushSchema = z
  .strictObject({
    contact: z
      .string()
      .regex(
        /^(mailto:[^\s@]+@[^\s@]+|https:\/\/\S+)$/,
        'expected "mailto:you@example.org" or an https address',
      )
      .optional()
      .describe(
        'Whom a push service can turn to (RFC 8292); some take nothing from a house without one. Absent: an address that reaches nobody.',
      ),
    privateHosts: z
      .array(z.string().min(1).max(253))
      .max(5)
      .default([])
      .describe(
        'Hosts of a push service of your own on a private network; elsewhere on such networks nothing is posted.',
      ),
    caFile: fileSchema.describe('Certificate authority of a push service of your own, PEM.'),
  })
  .meta({ id: 'Push' });

const shape = z.strictObject({
  url: z
    .url({ protocol: /^(mqtts?|wss?)$/, error: 'expected a URL such as "mqtts://broker.example:8883"' })
    .optional()
    .describe('External broker; absent: the monitor brings its own.'),
  user: z
    .string()
    .min(1)
    .max(80)
    .optional()
    .describe('Name that the external broker knows, or that the own broker asks for.'),
  password: askedWordSchema(1)
    .optional()
    .describe('For the own broker best as `drybell password` prints it; one elsewhere needs it in clear.'),
  logins: z
    .array(loginSchema)
    .max(50)
    .default([])
    .describe(
      'Further users of the own broker, each with what it may do; user and password above may command.',
    ),
  caFile: fileSchema.describe('Certificate authority of the external broker, PEM; absent: the usual ones.'),
  certFile: fileSchema.describe('Client certificate for the external broker, PEM.'),
  keyFile: fileSchema.describe('Key of certFile, PEM.'),
  listenHost: z.string().min(1).default('127.0.0.1').describe('Where the own broker listens.'),
  listenPort: z
    .int()
    .min(0)
    .max(65535)
    .default(1883)
    .describe('Port of the own broker; 0 takes any free one.'),
  listenWebSocketPort: z
    .int()
    .min(0)
    .max(65535)
    .optional()
    .describe('MQTT over WebSocket at this port as well.'),
  listenCertFile: fileSchema.describe('Makes the own broker speak TLS: its certificate, PEM.'),
  listenKeyFile: fileSchema.describe('Key of listenCertFile, PEM.'),
  webhooks: z.array(webhookSchema).max(5).default([]),
  push: pushSchema.prefault({}),
});

type Shape = z.infer<typeof shape>;
type Report = (path: string, message: string) => void;

function crossCheck(messaging: Shape, report: Report): void {
  if (new Set(messaging.webhooks.map((hook) => hook.id)).size < messaging.webhooks.length)
    report('webhooks', 'ids of webhooks must differ');
  if (messaging.webhooks.some((hook) => hook.id === MQTT_WAY))
    report('webhooks', `"${MQTT_WAY}" is the name of the way over the broker; give the webhook another id`);
  const pairs = [
    ['user', 'password'],
    ['certFile', 'keyFile'],
    ['listenCertFile', 'listenKeyFile'],
  ] as const;
  for (const [one, other] of pairs) {
    if ((messaging[one] === undefined) !== (messaging[other] === undefined))
      report(messaging[one] === undefined ? one : other, `give ${one} and ${other} together`);
  }
  if (messaging.url === undefined) {
    const users = [messaging.user, ...messaging.logins.map(({ user }) => user)];
    if (new Set(users).size < users.length) report('logins', 'users must differ');
    if (
      !isLoopback(messaging.listenHost) &&
      messaging.password === undefined &&
      messaging.logins.length === 0
    )
      report(
        'listenHost',
        `on "${messaging.listenHost}" others on the network could give commands: add user and password, or listen on 127.0.0.1`,
      );
    for (const key of ['caFile', 'certFile'] as const)
      if (messaging[key] !== undefined)
        report(key, `is for an external broker; add url, or use listenCertFile for the own broker`);
  } else if (messaging.logins.length > 0) {
    report(
      'logins',
      'are users of the own broker; leave out url, or give the broker elsewhere its own users',
    );
  } else if (isSealed(messaging.password ?? '')) {
    report('password', 'a broker elsewhere must be told the password itself: write it here in clear');
  } else if (/^\w+:\/\/[^/]*@/.test(messaging.url)) {
    report('url', 'leave user and password out of the URL; give them as user and password beside it');
  }
}

/** How the house talks to MQTT: an embedded broker unless `url` names another. */
export const messagingSchema = shape
  .superRefine((messaging, context) => {
    crossCheck(messaging, (key, message) => context.addIssue({ code: 'custom', path: [key], message }));
  })
  .meta({ id: 'Messaging' });
export type MessagingConfig = z.infer<typeof messagingSchema>;
