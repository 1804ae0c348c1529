import { X509Certificate } from 'node:crypto';
import type { ConnectionOptions } from 'node:tls';
import type { IClientOptions } from 'mqtt';

export interface ReachOptions {
  /** Where the monitor's broker is, e.g. mqtt://127.0.0.1:1883. */
  readonly address: string;
  /** Absent: the only farm that the broker knows. */
  readonly farm?: string | undefined;
  readonly user?: string | undefined;
  readonly password?: string | undefined;
  readonly ca?: Buffer | undefined;
  /** Client certificate and key for a broker that wants them. */
  readonly cert?: Buffer | undefined;
  readonly key?: Buffer | undefined;
  /** The certificate of the monitor's own broker: it and no other is trusted, whatever name it is for. */
  readonly ownCertificate?: Buffer | undefined;
  /** Whether the monitor has its broker in itself there; absent: nobody knows. */
  readonly isMonitorsOwn?: boolean | undefined;
  readonly patienceMs?: number | undefined;
}

/** The library hands what it does not know on to node:tls. */
type TlsOptions = Pick<IClientOptions, 'ca' | 'cert' | 'key'> &
  Pick<ConnectionOptions, 'checkServerIdentity' | 'allowPartialTrustChain'>;

/** Trusts one certificate, which stands in a file of this machine; the name that it is for may be another than 127.0.0.1. */
function trustOnly(pem: Buffer): TlsOptions {
  const { raw } = new X509Certificate(pem);
  return {
    ca: pem,
    // its authority need not be known here (before Node 20.18 it must)
    allowPartialTrustChain: true,
    checkServerIdentity: (host, certificate) =>
      raw.equals(certificate.raw)
        ? undefined
        : new Error(`${host} shows another certificate than the file messaging.listenCertFile`),
  };
}

function tlsOptions({ ca, cert, key, ownCertificate }: ReachOptions): TlsOptions {
  return {
    ...(cert === undefined ? {} : { cert }),
    ...(key === undefined ? {} : { key }),
    ...(ca !== undefined ? { ca } : ownCertificate !== undefined ? trustOnly(ownCertificate) : {}),
  };
}

/** How a client comes to the monitor's broker: as whom, and whom it trusts. */
export function reachClientOptions(options: ReachOptions): IClientOptions {
  const { user, password } = options;
  return {
    ...tlsOptions(options),
    ...(user === undefined ? {} : { username: user }),
    ...(password === undefined ? {} : { password }),
  };
}
