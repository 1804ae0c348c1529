import { createECDH, createPrivateKey, randomBytes, sign } from 'node:crypto';
import type { PushSubscriptionKeys } from '../../../../shared/wire/push.js';
import type { PushKeys } from './push-keys.js';
import type { PushPost } from './push-service.js';
import type { PushText } from './push-text.js';

const CURVE = 'prime256v1';
/** Of the salt in front of the body (RFC 8188 §2.1). */
const SALT_BYTES = 16;
/** A token may run for a day at most (RFC 8292 §2); half of it forgives clocks that differ. */
const TOKEN_LIFE_S = 12 * 3600;

const base64url = (value: object): string => Buffer.from(JSON.stringify(value)).toString('base64url');

/** Who sends, to the push service at this origin (RFC 8292 §2 and 3): a token signed with ES256, and the key beside it. */
function authorization(keys: PushKeys, contact: string, origin: string, nowMs: number): string {
  const point = Buffer.from(keys.publicKey, 'base64url');
  const jwk = {
    kty: 'EC',
    crv: 'P-256',
    x: point.subarray(1, 33).toString('base64url'),
    y: point.subarray(33).toString('base64url'),
    d: keys.privateKey,
  };
  const claims = { aud: origin, exp: Math.floor(nowMs / 1000) + TOKEN_LIFE_S, sub: contact };
  const signed = `${base64url({ typ: 'JWT', alg: 'ES256' })}.${base64url(claims)}`;
  const key = createPrivateKey({ key: jwk, format: 'jwk' });
  const signature = sign('sha256', Buffer.from(signed), { key, dsaEncoding: 'ieee-p1363' });
  return `vapid t=${signed}.${signature.toString('base64url')}, k=${keys.publicKey}`;
}

/**
 * One push, encrypted for its phone (RFC 8291) and signed by the house (RFC 8292). The library is loaded with the first: a house that
 * calls no phone does without.
 * @param nowMs the push service's clock, as far as this machine's is right
 */
export async function sealedPush(
  { keys, contact }: { readonly keys: PushKeys; readonly contact: string },
  { endpoint, keys: phone }: PushSubscriptionKeys,
  text: PushText,
  nowMs: number,
): Promise<PushPost> {
  const { encrypt } = await import('http_ece');
  const privateKey = createECDH(CURVE);
  privateKey.generateKeys();
  const salt = randomBytes(SALT_BYTES);
  const body = encrypt(Buffer.from(text.payload), {
    version: 'aes128gcm',
    dh: phone.p256dh,
    authSecret: phone.auth,
    privateKey,
    salt,
  });
  return {
    endpoint,
    body,
    headers: {
      TTL: text.ttlS,
      Urgency: text.urgency,
      'Content-Type': 'application/octet-stream',
      'Content-Encoding': 'aes128gcm',
      'Content-Length': body.length,
      Authorization: authorization(keys, contact, new URL(endpoint).origin, nowMs),
      ...(text.topic === undefined ? {} : { Topic: text.topic }),
    },
  };
}
