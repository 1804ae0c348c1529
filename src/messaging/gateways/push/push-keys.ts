import { createECDH } from 'node:crypto';

/** The curve of RFC 8292 §2 and RFC 8291 §3.1. */
const CURVE = 'prime256v1';

/** The pair by which push services know the house again (RFC 8292 §3.2), base64url. */
export interface PushKeys {
  readonly publicKey: string;
  readonly privateKey: string;
}

export function newPushKeys(): PushKeys {
  const pair = createECDH(CURVE);
  pair.generateKeys();
  // createECDH leaves out leading zeros of the private number
  const privateKey = Buffer.concat([Buffer.alloc(32), pair.getPrivateKey()]).subarray(-32);
  return { publicKey: pair.getPublicKey('base64url'), privateKey: privateKey.toString('base64url') };
}

/** True where the public key is the private one's. */
export function belongTogether({ publicKey, privateKey }: PushKeys): boolean {
  const pair = createECDH(CURVE);
  try {
    pair.setPrivateKey(privateKey, 'base64url');
    return pair.getPublicKey('base64url') === publicKey;
  } catch {
    // not a number on the curve
    return false;
  }
}
