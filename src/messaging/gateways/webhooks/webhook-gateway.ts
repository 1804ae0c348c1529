import { type WebhookConfig, webhookKey } from '../../../../shared/config/messaging.js';
import type { FarmSpeech } from '../../../watering/sentences/speech.js';
import type { Gateway } from '../poster.js';
import { forGateways, staysHere } from './for-gateways.js';
import { post } from './post.js';
import { postBody } from './post-body.js';

/** A webhook of the configuration. */
export function webhookGateway(hook: WebhookConfig, speech: FarmSpeech, wallNowMs: () => number): Gateway {
  const key = webhookKey(hook.secret);
  if (key === undefined) throw new TypeError(`webhook "${hook.id}" has a secret that the schema refuses`);
  return {
    id: hook.id,
    way: `the webhook "${hook.id}"`,
    kind: 'webhook',
    wants: forGateways,
    staysHere,
    post: (message, ending) => {
      const atMs = wallNowMs();
      const body = postBody(message, { webhook: hook.id }, atMs, speech);
      return post({ url: hook.url, key, id: message.id, atMs, body }, ending);
    },
  };
}
