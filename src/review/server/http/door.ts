import type { IncomingMessage, ServerResponse } from 'node:http';
import { isIP } from 'node:net';
import { hostname } from 'node:os';
import { Refusal } from './respond.js';

/** Sent with every answer: the page loads from this process alone, and nobody may frame it or read it from elsewhere. */
const SAFE_HEADERS: Readonly<Record<string, string>> = {
  'Content-Security-Policy':
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Permissions-Policy': 'camera=(), microphone=(), geolocation=()',
};

export function putSafeHeaders(response: ServerResponse): void {
  for (const [name, value] of Object.entries(SAFE_HEADERS)) response.setHeader(name, value);
}

/** Host name of a Host header without its port; undefined when it is none. */
function nameOf(host: string | undefined): string | undefined {
  if (host === undefined || !URL.canParse(`http://${host}`)) return undefined;
  const url = new URL(`http://${host}`);
  return url.username === '' && url.pathname === '/' ? url.hostname.replace(/^\[|\]$/g, '') : undefined;
}

/**
 * Names under which the page may be asked for. An address is always right: DNS rebinding needs a name.
 */
export function namesOfThisHouse(configured: readonly string[]): ReadonlySet<string> {
  const machine = hostname().toLowerCase();
  return new Set(['localhost', machine, `${machine}.local`, ...configured].map((name) => name.toLowerCase()));
}

/** Refuses a request that came under a foreign name (DNS rebinding). */
export function checkHost(request: IncomingMessage, names: ReadonlySet<string>): void {
  const name = nameOf(request.headers.host);
  if (name !== undefined && (isIP(name) !== 0 || names.has(name))) return;
  throw new Refusal(
    421,
    'unknown-host',
    `This page is not known as "${name ?? ''}"; use its address, or add the name under page.hostNames.`,
  );
}

/** Refuses what another site makes a browser send. Programs that are no browser send no Origin. */
export function checkSameOrigin(request: IncomingMessage): void {
  const site = request.headers['sec-fetch-site'];
  const origin = request.headers.origin;
  const host = request.headers.host;
  const foreignSite = site !== undefined && site !== 'same-origin' && site !== 'none';
  const foreignOrigin =
    origin !== undefined && (!URL.canParse(origin) || new URL(origin).host !== host?.toLowerCase());
  if (foreignSite || foreignOrigin)
    throw new Refusal(403, 'other-site', 'Commands are taken from this page only, not from another site.');
}
