declare module 'http_ece' {
  import type { ECDH } from 'node:crypto';

  /** Encrypts after RFC 8188, with the keys of RFC 8291 where `dh` and `authSecret` are given; text is base64url. */
  export function encrypt(
    plain: Buffer,
    how: {
      readonly version: 'aes128gcm';
      readonly dh: string;
      readonly privateKey: ECDH;
      readonly authSecret: string;
      readonly salt: Buffer;
    },
  ): Buffer;
}
