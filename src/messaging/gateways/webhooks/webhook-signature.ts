import { createHmac } from 'node:crypto';

/**
 * Headers that sign one post, after the Standard Webhooks specification: HMAC-SHA256 over "id.timestamp.body", base64.
 * @param key bytes of the secret
 * @param timestampS seconds since 1970, of this attempt
 */
export function webhookHeaders(
  key: Uint8Array,
  id: string,
  timestampS: number,
  body: string,
): Readonly<Record<'webhook-id' | 'webhook-timestamp' | 'webhook-signature', string>> {
  const signature = createHmac('sha256', key).update(`${id}.${timestampS}.${body}`).digest('base64');
  return {
    'webhook-id': id,
    'webhook-timestamp': String(timestampS),
    'webhook-signature': `v1,${signature}`,
  };
}
