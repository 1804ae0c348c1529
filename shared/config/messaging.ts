import { z } from 'zod';

/** How the house talks to MQTT: an embedded broker unless `url` names another. */
export const messagingSchema = z
  .strictObject({
    url: z
      .url({ protocol: /^(mqtts?|wss?)$/ })
      .optional()
      .describe('External broker; absent: embedded broker.'),
    listenHost: z.string().default('127.0.0.1'),
    listenPort: z.int().min(0).max(65535).default(1883),
  })
  .meta({ id: 'Messaging' });
export type MessagingConfig = z.infer<typeof messagingSchema>;
