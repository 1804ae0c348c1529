import type { lookup } from 'node:dns';
import { describe, expect, it } from 'vitest';
import { pushRequestSchema } from '../../shared/wire/push.js';
import { PushService } from '../../src/messaging/gateways/push/push-service.js';
import { newPhone, subscriptionOf } from './pushed-to.js';

/** As a name server would answer. */
const standsFor = (...addresses: readonly string[]): typeof lookup =>
  ((_host: string, _options: unknown, done: (error: null, found: object[]) => void) =>
    done(
      null,
      addresses.map((address) => ({ address, family: address.includes(':') ? 6 : 4 })),
    )) as unknown as typeof lookup;

const post = { endpoint: 'https://push.example/p/1', headers: {}, body: Buffer.alloc(0) };

describe('a page that names its push service', () => {
  it.each([
    'http://push.example/p/1',
    'ftp://push.example/p/1',
    'https://',
    'https://a:b@push.example/p/1',
    'https://127.0.0.1/p/1',
    'https://127.1/p/1',
    'https://0x7f000001/p/1',
    'https://10.0.0.7:8118/api/command',
    'https://172.20.1.1/',
    'https://192.168.4.20/',
    'https://169.254.169.254/latest',
    'https://100.64.0.1/',
    'https://0.0.0.0/',
    'https://[::1]/',
    'https://[::ffff:10.0.0.7]/',
    'https://[fd00::7]/',
    'https://[fe80::1]/',
    'https://localhost:8118/',
    'https://LOCALHOST/',
  ])('is not believed at %s', (endpoint) => {
    expect(new PushService({ privateHosts: [] }).refusal(endpoint)).toMatch(/private network|not the https/);
  });

  it.each(['https://push.example/p/1', 'https://9.9.9.9/p/1', 'https://[2620:fe::fe]/p/1'])(
    'is believed at %s',
    (endpoint) => {
      expect(new PushService({ privateHosts: [] }).refusal(endpoint)).toBeUndefined();
    },
  );

  it.each([['127.0.0.1'], ['192.168.4.1'], ['::1'], ['::ffff:192.168.4.1'], ['fd12::1']])(
    'is not posted to where its name stands for %s',
    async (address) => {
      const service = new PushService({ privateHosts: [], lookup: standsFor(address) });
      await expect(service.post(post, new AbortController().signal)).rejects.toMatchObject({
        code: 'EPRIVATE',
      });
    },
  );

  it('is believed on a private network where the configuration names it', () => {
    const service = new PushService({ privateHosts: ['192.168.4.20', 'localhost'] });
    expect(service.refusal('https://192.168.4.20/p/1')).toBeUndefined();
    expect(service.refusal('https://localhost:8443/p/1')).toBeUndefined();
  });

  it('gives keys that are keys', () => {
    const subscription = subscriptionOf(newPhone(), post.endpoint);
    const isTaken = (change: object): boolean =>
      pushRequestSchema.safeParse({ do: 'begin', name: '', subscription: { ...subscription, ...change } })
        .success;
    expect(isTaken({})).toBe(true);
    expect(isTaken({ endpoint: 'http://push.example/' })).toBe(false);
    expect(isTaken({ keys: { ...subscription.keys, auth: 'short' } })).toBe(false);
    expect(isTaken({ keys: { p256dh: subscription.keys.p256dh } })).toBe(false);
  });
});
