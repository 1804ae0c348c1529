import { createECDH } from 'node:crypto';
import { expect, it } from 'vitest';
import { belongTogether, newPushKeys } from '../../src/messaging/gateways/push/push-keys.js';
import { decrypted } from './pushed-to.js';

it('the test’s own phone reads the example of RFC 8291, appendix A', () => {
  const pair = createECDH('prime256v1');
  pair.setPrivateKey('q1dXpw3UpT5VOmu_cf_v6ih07Aems3njxI-JWgLcM94', 'base64url');
  expect(pair.getPublicKey('base64url')).toBe(
    'BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4',
  );
  const secret = Buffer.from('BTBZMqHH6r4Tts7J_aSIgg', 'base64url');
  const body = Buffer.from(
    'DGv6ra1nlYgDCS1FRnbzlwAAEABBBP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl7A_yl95bQpu6cVPTpK4Mqgkf1CXztLVBSt2Ks3oZwbuwXPXLWyouBWLVWGNWQexSgSxsj_Qulcy4a-fN',
    'base64url',
  );
  expect(decrypted(body, { pair, secret })).toBe('When I grow up, I want to be a watermelon');
  const torn = Buffer.from(body);
  torn.writeUInt8(torn.readUInt8(torn.length - 1) ^ 1, torn.length - 1);
  expect(() => decrypted(torn, { pair, secret })).toThrow();
});

it('keys of the house are a pair of 65 and 32 bytes, each time another', () => {
  const pairs = Array.from({ length: 300 }, newPushKeys);
  for (const keys of pairs) {
    expect(Buffer.from(keys.publicKey, 'base64url')).toHaveLength(65);
    expect(Buffer.from(keys.privateKey, 'base64url')).toHaveLength(32);
    expect(belongTogether(keys)).toBe(true);
  }
  expect(new Set(pairs.map(({ publicKey }) => publicKey)).size).toBe(pairs.length);
  const [one, other] = pairs;
  expect(belongTogether({ publicKey: one?.publicKey ?? '', privateKey: other?.privateKey ?? '' })).toBe(
    false,
  );
});
