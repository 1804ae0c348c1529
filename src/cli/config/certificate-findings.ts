import type { FarmConfig } from '../../../shared/config/farm.js';
import { isLoopback } from '../../../shared/config/messaging.js';
import {
  CertificateError,
  certificateDates,
  isReadableByAll,
  namesNotCovered,
  readCertificatePair,
} from '../../host/doors/certificate.js';
import type { Tried } from './tried.js';

/** What is to be said of the certificate that the page shows; nothing where it has none. */
export function certificateFindings({ page }: FarmConfig, nowMs: number): readonly Tried[] {
  if (page.certFile === undefined || page.keyFile === undefined) return [];
  const what = 'page TLS';
  const certFile = { key: 'page.certFile', path: page.certFile };
  const keyFile = { key: 'page.keyFile', path: page.keyFile };
  const of = (key: 'certFile' | 'keyFile' | 'hostNames') => ({ what, path: ['page', key] });
  let cert: Buffer;
  try {
    ({ cert } = readCertificatePair(certFile, keyFile));
  } catch (cause) {
    if (!(cause instanceof CertificateError)) throw cause;
    return [{ ...of('certFile'), ok: false, sentence: cause.message }];
  }
  const dates = certificateDates(certFile, cert, nowMs);
  const asked = [...page.hostNames, ...(isAnyAddress(page.listenHost) ? [] : [page.listenHost])];
  const missing = namesNotCovered(
    cert,
    asked.filter((name) => !isLoopback(name)),
  );
  const found: Tried[] = [];
  if (dates !== undefined)
    found.push({
      ...of('certFile'),
      ok: !dates.isOver,
      sentence: dates.sentence,
      ...(dates.isOver ? {} : { better: true }),
    });
  if (missing.length > 0)
    found.push({
      ...of('certFile'),
      ok: false,
      sentence: `page.certFile "${page.certFile}" does not stand for ${missing.join(', ')}: phones that come under that name are warned; have it made for every name and address that they use`,
    });
  if (isReadableByAll(page.keyFile))
    found.push({
      ...of('keyFile'),
      ok: false,
      sentence: `every user of this machine can read page.keyFile "${page.keyFile}": chmod 640 it, its group the service's`,
    });
  if (found.length === 0)
    found.push({
      ...of('certFile'),
      ok: true,
      sentence: `"${page.certFile}" and its key belong together and are in date`,
    });
  return found;
}

const isAnyAddress = (host: string): boolean => host === '0.0.0.0' || host === '::';
