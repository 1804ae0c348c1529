import { createPrivateKey, X509Certificate } from 'node:crypto';
import { readFileSync } from 'node:fs';
import type { MessagingConfig } from '../../../shared/config/messaging.js';
import { fileTrouble } from '../../host/disk/file-trouble.js';
import { MessagingError } from './messaging-error.js';

type FileKey = 'caFile' | 'certFile' | 'keyFile' | 'listenCertFile' | 'listenKeyFile';

function readPem(config: MessagingConfig, key: FileKey): Buffer | undefined {
  const path = config[key];
  if (path === undefined) return undefined;
  let text: Buffer;
  try {
    text = readFileSync(path);
  } catch (cause) {
    throw new MessagingError(
      'file-unreadable',
      `Cannot read messaging.${key} "${path}": ${fileTrouble(cause)}`,
      {
        cause,
      },
    );
  }
  if (!text.includes('-----BEGIN '))
    throw new MessagingError(
      'file-unreadable',
      `messaging.${key} "${path}" is not a PEM file ("-----BEGIN …")`,
    );
  return text;
}

/** A certificate and its key; both or none. Throws when the one does not belong to the other. */
function readPair(
  config: MessagingConfig,
  certKey: 'certFile' | 'listenCertFile',
  keyKey: 'keyFile' | 'listenKeyFile',
): { readonly cert: Buffer; readonly key: Buffer } | undefined {
  const cert = readPem(config, certKey);
  const key = readPem(config, keyKey);
  if (cert === undefined || key === undefined) return undefined;
  const names = `messaging.${certKey} "${config[certKey]}" and messaging.${keyKey} "${config[keyKey]}"`;
  let fits: boolean;
  try {
    fits = new X509Certificate(cert).checkPrivateKey(createPrivateKey(key));
  } catch (cause) {
    const message = `Cannot use ${names}: expected a certificate and its key without a passphrase, both PEM`;
    throw new MessagingError('file-unreadable', message, { cause });
  }
  if (!fits)
    throw new MessagingError(
      'file-unreadable',
      `${names} do not belong together: name the key that the certificate was made with`,
    );
  return { cert, key };
}

/** Certificates and keys that the configuration names. */
export interface BrokerFiles {
  readonly ca?: Buffer | undefined;
  /** What is shown to a broker elsewhere. */
  readonly cert?: Buffer | undefined;
  readonly key?: Buffer | undefined;
  /** What the own broker shows. */
  readonly listenTls?: { readonly cert: Buffer; readonly key: Buffer } | undefined;
}

/** Reads them. Throws MessagingError for a file that cannot be read or does not fit. */
export function readBrokerFiles(config: MessagingConfig): BrokerFiles {
  return {
    ca: readPem(config, 'caFile'),
    ...readPair(config, 'certFile', 'keyFile'),
    listenTls: readPair(config, 'listenCertFile', 'listenKeyFile'),
  };
}
