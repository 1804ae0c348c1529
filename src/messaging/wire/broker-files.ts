import type { MessagingConfig } from '../../../shared/config/messaging.js';
import {
  CertificateError,
  type CertificatePair,
  type NamedFile,
  readCertificatePair,
  readPem,
} from '../../host/doors/certificate.js';
import { MessagingError } from './messaging-error.js';

/** The authority that stands for a push service of the farm's own. Throws MessagingError. */
export function readPushAuthority({ push }: MessagingConfig): Buffer | undefined {
  const path = push.caFile;
  return path === undefined ? undefined : asMessaging(() => readPem({ key: 'messaging.push.caFile', path }));
}

type FileKey = 'caFile' | 'certFile' | 'keyFile' | 'listenCertFile' | 'listenKeyFile';

function named(config: MessagingConfig, key: FileKey): NamedFile | undefined {
  const path = config[key];
  return path === undefined ? undefined : { key: `messaging.${key}`, path };
}

/** A certificate and its key; both or none. */
function readPair(
  config: MessagingConfig,
  certKey: 'certFile' | 'listenCertFile',
  keyKey: 'keyFile' | 'listenKeyFile',
): CertificatePair | undefined {
  const cert = named(config, certKey);
  const key = named(config, keyKey);
  return cert === undefined || key === undefined ? undefined : readCertificatePair(cert, key);
}

/** Certificates and keys that the configuration names. */
export interface BrokerFiles {
  readonly ca?: Buffer | undefined;
  /** What is shown to a broker elsewhere. */
  readonly cert?: Buffer | undefined;
  readonly key?: Buffer | undefined;
  /** What the own broker shows. */
  readonly listenTls?: CertificatePair | undefined;
}

/** Reads them. Throws MessagingError for a file that cannot be read or does not fit. */
export function readBrokerFiles(config: MessagingConfig): BrokerFiles {
  const ca = named(config, 'caFile');
  return asMessaging(() => ({
    ca: ca && readPem(ca),
    ...readPair(config, 'certFile', 'keyFile'),
    listenTls: readPair(config, 'listenCertFile', 'listenKeyFile'),
  }));
}

function asMessaging<T>(read: () => T): T {
  try {
    return read();
  } catch (cause) {
    if (!(cause instanceof CertificateError)) throw cause;
    throw new MessagingError('file-unreadable', cause.message, { cause });
  }
}
