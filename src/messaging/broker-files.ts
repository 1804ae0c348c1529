import { readFileSync } from 'node:fs';
import type { MessagingConfig } from '../../shared/config/messaging.js';
import { errorText, MessagingError } from './messaging-error.js';

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
      `Cannot read messaging.${key} "${path}": ${errorText(cause)}`,
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

/** Certificates and keys that the configuration names. Throws MessagingError for one that cannot be read. */
export interface BrokerFiles {
  readonly ca?: Buffer | undefined;
  readonly cert?: Buffer | undefined;
  readonly key?: Buffer | undefined;
  readonly listenTls?: { readonly cert: Buffer; readonly key: Buffer } | undefined;
}

export function readBrokerFiles(config: MessagingConfig): BrokerFiles {
  const cert = readPem(config, 'listenCertFile');
  const key = readPem(config, 'listenKeyFile');
  return {
    ca: readPem(config, 'caFile'),
    cert: readPem(config, 'certFile'),
    key: readPem(config, 'keyFile'),
    listenTls: cert === undefined || key === undefined ? undefined : { cert, key },
  };
}
