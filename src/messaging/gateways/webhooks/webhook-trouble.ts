import { errorCode, errorText } from '../../wire/messaging-error.js';

const SECRETS_DIFFER = 'it does not believe the signature; give both sides the same secret';

const STATUS_ADVICE: Readonly<Record<number, string>> = {
  401: SECRETS_DIFFER,
  403: SECRETS_DIFFER,
  404: 'nothing is at that path; check its url',
  405: 'it takes no POST at that path; check its url',
  410: 'that address is gone for good; give another url, or take the webhook out',
};

const NETWORK_ADVICE: Readonly<Record<string, string>> = {
  ECONNREFUSED: 'nobody listens there; start the gateway, or check its url',
  ENOTFOUND: 'there is no machine of that name; check its url and the network',
  EAI_AGAIN: 'its name cannot be looked up now; check the network',
  EHOSTUNREACH: 'the network does not reach it; check cable and address',
  ENETUNREACH: 'the network does not reach it; check cable and address',
  CERT_HAS_EXPIRED: "its certificate has expired; renew it there, or check this machine's clock",
  ERR_TLS_CERT_ALTNAME_INVALID: 'its certificate is for another name; use that name in its url',
};

const SERVER_ERROR = 500;

/** Why an answer with this HTTP status is no "taken", in words, and what to do where that is known. */
export function refusalWords(status: number, location: string | null): string {
  if (status >= 300 && status < 400)
    return `it answers ${status} and points to ${location ?? 'another address'}; posts do not follow, give the final address as its url`;
  const advice = STATUS_ADVICE[status] ?? (status >= SERVER_ERROR ? "look at the gateway's log" : undefined);
  return `it answers ${status}${advice === undefined ? '' : `: ${advice}`}`;
}

/** Why no answer came at all, in words, and what to do where that is known. */
export function silenceWords(cause: unknown, patienceMs: number): string {
  if (cause instanceof Error && cause.name === 'TimeoutError')
    return `it does not answer within ${patienceMs / 1000} s; look at the gateway's log and at the network`;
  const root = cause instanceof Error && cause.cause !== undefined ? cause.cause : cause;
  return NETWORK_ADVICE[errorCode(root)] ?? (errorText(root) || errorCode(root));
}
