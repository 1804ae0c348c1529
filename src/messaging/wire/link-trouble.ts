import type { LinkTroubleKind } from '../../../shared/page/page-houses.js';
import { errorCode, errorText } from './messaging-error.js';

/** Return codes of CONNACK, MQTT 3.1.1 table 3.1. */
const LOGIN_REFUSED_CODES = new Set([4, 5]);

function connackCode(error: unknown): number | undefined {
  const code = error instanceof Error && 'code' in error ? error.code : undefined;
  return typeof code === 'number' ? code : undefined;
}

/** True when the broker answered, and does not take this user and password. */
export function isLoginRefused(error: unknown): boolean {
  const code = connackCode(error);
  return code !== undefined && LOGIN_REFUSED_CODES.has(code);
}

const TLS_ADVICE: Readonly<Record<string, string>> = {
  CERT_HAS_EXPIRED: "the broker's certificate has expired; renew it there, or check this machine's clock",
  CERT_NOT_YET_VALID: "the broker's certificate is not valid yet; check this machine's clock",
  DEPTH_ZERO_SELF_SIGNED_CERT: 'its certificate is self-signed; name it as messaging.caFile',
  SELF_SIGNED_CERT_IN_CHAIN: 'its authority is not known here; name it as messaging.caFile',
  UNABLE_TO_VERIFY_LEAF_SIGNATURE: 'its authority is not known here; name it as messaging.caFile',
  UNABLE_TO_GET_ISSUER_CERT_LOCALLY: 'its authority is not known here; name it as messaging.caFile',
  ERR_SSL_TLSV13_ALERT_CERTIFICATE_REQUIRED:
    'it wants a certificate of its clients; name it as messaging.certFile and messaging.keyFile',
  ERR_SSL_SSLV3_ALERT_HANDSHAKE_FAILURE:
    'it wants a certificate of its clients; name it as messaging.certFile and messaging.keyFile',
  ERR_SSL_TLSV1_ALERT_UNKNOWN_CA:
    'it does not know the authority of messaging.certFile; have it signed by the one it knows',
  ERR_SSL_SSLV3_ALERT_CERTIFICATE_EXPIRED: 'messaging.certFile has expired; have a new one made',
  ERR_SSL_WRONG_VERSION_NUMBER:
    'it does not speak TLS there; take its port for TLS (often 8883), or mqtt:// in messaging.url',
  ERR_TLS_CERT_ALTNAME_INVALID: 'its certificate is for another name; use that name in messaging.url',
};

const NETWORK_ADVICE: Readonly<Record<string, string>> = {
  ECONNREFUSED: 'nobody listens there; start the broker, or check messaging.url',
  ENOTFOUND: 'there is no machine of that name; check messaging.url and the network',
  EAI_AGAIN: 'its name cannot be looked up now; check the network',
  ETIMEDOUT: 'it does not answer; check the network',
  EHOSTUNREACH: 'the network does not reach it; check cable and address',
  ENETUNREACH: 'the network does not reach it; check cable and address',
};

/** Why a connection failed or ended, as one word for those who say it in their own language. */
export function linkTroubleKind(error: unknown): LinkTroubleKind {
  if (error === undefined) return 'ended';
  if (isLoginRefused(error)) return 'login';
  if (errorCode(error) in TLS_ADVICE) return 'certificate';
  return errorCode(error) in NETWORK_ADVICE ? 'not-reached' : 'no-answer';
}

/** Why a connection failed or ended, in words, and what to do. */
export function linkTrouble(error: unknown, address: string): string {
  const broker = `the broker ${address} is away`;
  if (error === undefined) return `${broker}: the connection ended`;
  if (isLoginRefused(error))
    return `the broker ${address} refuses the login: check messaging.user and messaging.password`;
  const advice = TLS_ADVICE[errorCode(error)] ?? NETWORK_ADVICE[errorCode(error)];
  if (advice !== undefined) return `${broker}: ${advice}`;
  if (errorCode(error) === 'ECONNRESET')
    return /^(mqtts|wss):/.test(address)
      ? `${broker}: it hung up; check that it speaks TLS at that port (often 8883)`
      : `${broker}: it hung up; if it wants TLS, the URL begins with mqtts://`;
  if (errorText(error).includes('connack timeout'))
    return `${broker}: it took the connection but does not answer; check that it speaks MQTT 3.1.1`;
  return `${broker}: ${errorText(error)}`;
}
