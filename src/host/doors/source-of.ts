import { isIPv6 } from 'node:net';

/** A household's network in IPv6, RFC 6177: whoever has one address of it has them all. */
const NETWORK_GROUPS = 4;
const GROUPS = 8;

/** The eight groups of an IPv6 address without zone, `::` written out. */
function groupsOf(address: string): readonly string[] {
  const [head = '', tail] = address.split('::');
  const before = head === '' ? [] : head.split(':');
  const after = tail === undefined || tail === '' ? [] : tail.split(':');
  const between = tail === undefined ? 0 : GROUPS - before.length - after.length;
  return [...before, ...Array<string>(Math.max(0, between)).fill('0'), ...after];
}

/**
 * Where a connection comes from, for counting what comes from there: an IPv4 address, or the /64 network of an IPv6 one.
 * @param address as a socket has it; undefined: a socket that is gone already
 */
export function sourceOf(address: string | undefined): string {
  if (address === undefined) return 'unknown';
  const plain = address.replace(/^::ffff:(?=\d+\.)/i, '').replace(/%.*$/, '');
  if (!isIPv6(plain)) return plain;
  return `${groupsOf(plain.toLowerCase()).slice(0, NETWORK_GROUPS).join(':')}::/64`;
}
