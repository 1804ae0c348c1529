import { statSync } from 'node:fs';
import { createServer, type RequestListener, type Server } from 'node:http';
import { createServer as createTlsServer } from 'node:https';
import { MS_PER_MIN } from '../../../../shared/base/time-units.js';
import type { PageConfig } from '../../../../shared/config/page.js';
import {
  CertificateError,
  certificateDates,
  type NamedFile,
  readCertificatePair,
} from '../../../host/doors/certificate.js';

const HEADERS_WITHIN_MS = 10_000;
const REQUEST_WITHIN_MS = 15_000;
const HANDSHAKE_WITHIN_MS = 10_000;

/** Whoever renews a certificate does not look whether it is taken; within a minute it is (judgement). */
export const LOOK_EVERY_MS = MS_PER_MIN;

export interface PageServerOptions {
  readonly page: Pick<PageConfig, 'certFile' | 'keyFile'>;
  readonly answer: RequestListener;
  readonly nowMs: () => number;
  /** Told of a certificate that phones will not believe, each sentence once. */
  readonly complain: (sentence: string) => void;
  /** How often the files are looked at; for tests. */
  readonly lookEveryMs?: number | undefined;
}

export interface PageServer {
  readonly server: Server;
  readonly scheme: 'http' | 'https';
  /** No further look at the files. */
  rest(): void;
}

/** What tells that a file is another than before; empty where it is not there. */
function markOf({ path }: NamedFile): string {
  const stat = statSync(path, { throwIfNoEntry: false });
  return stat === undefined ? '' : `${stat.mtimeMs} ${stat.size} ${stat.ino}`;
}

/**
 * The server behind the page: over TLS where the configuration names a certificate. When its files change the new ones are taken without
 * a connection ended; a pair that cannot be used leaves the old one standing, and that is said when the next look finds it still so, for
 * the two files are written one after the other. Throws CertificateError for files that cannot be used at the start; a certificate out
 * of date is shown all the same, and said: phones may go on past the warning, and the farm is watched.
 */
export function createPageServer(options: PageServerOptions): PageServer {
  const { page, answer } = options;
  const limits = { headersTimeout: HEADERS_WITHIN_MS, requestTimeout: REQUEST_WITHIN_MS };
  if (page.certFile === undefined || page.keyFile === undefined)
    return { server: createServer(limits, answer), scheme: 'http', rest: () => undefined };
  const certFile: NamedFile = { key: 'page.certFile', path: page.certFile };
  const keyFile: NamedFile = { key: 'page.keyFile', path: page.keyFile };
  const mark = (): string => markOf(certFile) + markOf(keyFile);
  let taken = mark();
  let pair = readCertificatePair(certFile, keyFile);
  const server = createTlsServer({ ...limits, ...pair, handshakeTimeout: HANDSHAKE_WITHIN_MS }, answer);
  let said: string | undefined;
  let failedAt: string | undefined;
  const say = (sentence: string | undefined): void => {
    if (sentence !== undefined && sentence !== said) options.complain(sentence);
    said = sentence;
  };
  const lookAtDates = (): void => say(certificateDates(certFile, pair.cert, options.nowMs())?.sentence);
  const look = (): void => {
    const now = mark();
    if (now === taken) return lookAtDates();
    try {
      pair = readCertificatePair(certFile, keyFile);
      server.setSecureContext(pair);
      taken = now;
      failedAt = undefined;
      lookAtDates();
    } catch (cause) {
      if (!(cause instanceof CertificateError)) throw cause;
      if (failedAt === now) say(`${cause.message}; the page shows the certificate from before`);
      failedAt = now;
    }
  };
  lookAtDates();
  const timer = setInterval(look, options.lookEveryMs ?? LOOK_EVERY_MS);
  timer.unref();
  return { server, scheme: 'https', rest: () => clearInterval(timer) };
}
