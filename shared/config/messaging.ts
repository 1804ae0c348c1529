import { z } from 'zod';

/** True for an address that only this machine can reach: 127.0.0.0/8, ::1 or "localhost". */
export function isLoopback(host: string): boolean {
  return host === 'localhost' || host === '::1' || /^127(\.\d{1,3}){3}$/.test(host);
}

const fileSchema = z.string().min(1).optional();

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
  password: z.string().min(1).max(200).optional(),
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
});

type Shape = z.infer<typeof shape>;
type Report = (path: string, message: string) => void;

function crossCheck(messaging: Shape, report: Report): void {
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
    if (!isLoopback(messaging.listenHost) && messaging.password === undefined)
      report(
        'listenHost',
        `on "${messaging.listenHost}" others on the network could give commands: add user and password, or listen on 127.0.0.1`,
      );
    for (const key of ['caFile', 'certFile'] as const)
      if (messaging[key] !== undefined)
        report(key, `is for an external broker; add url, or use listenCertFile for the own broker`);
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
