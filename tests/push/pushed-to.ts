import {
  createDecipheriv,
  createECDH,
  createHmac,
  createPublicKey,
  type ECDH,
  randomBytes,
  verify,
} from 'node:crypto';
import type { PushSubscriptionKeys } from '../../shared/wire/push.js';

const CURVE = 'prime256v1';
const HOUR_S = 3600;

const hmac = (key: Buffer, ...parts: readonly Buffer[]): Buffer =>
  createHmac('sha256', key).update(Buffer.concat(parts)).digest();

/** What a browser has of its subscription: the key pair and the secret (RFC 8291 §3.1, 3.2). */
export interface Phone {
  readonly pair: ECDH;
  readonly secret: Buffer;
}

export function newPhone(): Phone {
  const pair = createECDH(CURVE);
  pair.generateKeys();
  return { pair, secret: randomBytes(16) };
}

export function subscriptionOf({ pair, secret }: Phone, endpoint: string): PushSubscriptionKeys {
  return {
    endpoint,
    expirationTime: null,
    keys: { p256dh: pair.getPublicKey('base64url'), auth: secret.toString('base64url') },
  };
}

/**
 * Decrypts the body of a push message as the browser does: RFC 8291 §3.3 and 3.4 for the keys, RFC 8188 §2 for the single record. Written
 * from the standards, with nothing of what encrypted it. Throws where the body is not for this phone.
 */
export function decrypted(body: Buffer, { pair, secret }: Phone): string {
  const salt = body.subarray(0, 16);
  const recordSize = body.readUInt32BE(16);
  const idLength = body.readUInt8(20);
  const serverKey = body.subarray(21, 21 + idLength);
  const record = body.subarray(21 + idLength);
  if (record.length > recordSize) throw new RangeError('more than one record (RFC 8291 §4)');
  const keyInfo = Buffer.concat([Buffer.from('WebPush: info\0'), pair.getPublicKey(), serverKey]);
  const inputKey = hmac(hmac(secret, pair.computeSecret(serverKey)), keyInfo, Buffer.from([1]));
  const random = hmac(salt, inputKey);
  const key = hmac(random, Buffer.from('Content-Encoding: aes128gcm\0\x01')).subarray(0, 16);
  const nonce = hmac(random, Buffer.from('Content-Encoding: nonce\0\x01')).subarray(0, 12);
  const cipher = createDecipheriv('aes-128-gcm', key, nonce);
  cipher.setAuthTag(record.subarray(-16));
  const padded = Buffer.concat([cipher.update(record.subarray(0, -16)), cipher.final()]);
  const end = padded.lastIndexOf(2);
  if (end < 0 || padded.subarray(end + 1).some((byte) => byte !== 0))
    throw new RangeError('no last record (RFC 8188 §2)');
  return padded.subarray(0, end).toString('utf8');
}

const partOf = (jwt: string, index: number): unknown =>
  JSON.parse(Buffer.from(jwt.split('.')[index] ?? '', 'base64url').toString('utf8'));

/**
 * Who sent a push, by its Authorization header (RFC 8292 §2 and 3). Throws where the token is not signed by the key beside it, is for
 * another service, has run out or would run for more than a day.
 * @returns public key of the sender and whom to turn to
 */
export function senderOf(
  authorization: string,
  origin: string,
  nowS: number,
): { readonly publicKey: string; readonly contact: string } {
  const [, token = '', publicKey = ''] = /^vapid t=([^,\s]+),\s*k=([^,\s]+)$/i.exec(authorization) ?? [];
  const point = Buffer.from(publicKey, 'base64url');
  const jwk = {
    kty: 'EC',
    crv: 'P-256',
    x: point.subarray(1, 33).toString('base64url'),
    y: point.subarray(33).toString('base64url'),
  };
  const { alg } = partOf(token, 0) as { alg: string };
  if (alg !== 'ES256') throw new RangeError(`signed with ${alg}`);
  const [head, claims, signature = ''] = token.split('.');
  const isSigned = verify(
    'sha256',
    Buffer.from(`${head}.${claims}`),
    { key: createPublicKey({ key: jwk, format: 'jwk' }), dsaEncoding: 'ieee-p1363' },
    Buffer.from(signature, 'base64url'),
  );
  if (!isSigned) throw new RangeError('not signed by its key');
  const { aud, exp, sub } = partOf(token, 1) as { aud: string; exp: number; sub: string };
  if (aud !== origin) throw new RangeError(`for ${aud}, not ${origin}`);
  if (exp <= nowS || exp > nowS + 24 * HOUR_S) throw new RangeError('run out, or longer than a day');
  return { publicKey, contact: sub };
}
