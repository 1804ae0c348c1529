import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { toolPath } from './needs.js';

/** PEM files of a small authority and of a server, at 127.0.0.1 unless other names are given. */
export interface Certificates {
  readonly ca: string;
  readonly cert: string;
  readonly key: string;
  remove(): void;
}

/** Made with openssl; `days` -1 gives a certificate that expired yesterday. */
export function makeCertificates(days = 30, names = 'IP:127.0.0.1,DNS:localhost'): Certificates {
  const folder = mkdtempSync(join(tmpdir(), 'drybell-tls-'));
  const file = (name: string) => join(folder, name);
  const openssl = (...args: string[]) =>
    execFileSync(toolPath('openssl') ?? 'openssl', args, { stdio: 'pipe' });
  const newKey = ['-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1', '-nodes'];
  openssl(
    'req',
    '-x509',
    ...newKey,
    '-keyout',
    file('ca.key'),
    '-out',
    file('ca.pem'),
    '-days',
    '30',
    '-subj',
    '/CN=bench authority',
  );
  openssl(
    'req',
    ...newKey,
    '-keyout',
    file('server.key'),
    '-out',
    file('server.csr'),
    '-subj',
    '/CN=bench broker',
  );
  writeFileSync(file('names'), `subjectAltName=${names}\n`);
  openssl(
    ...['x509', '-req', '-in', file('server.csr'), '-CA', file('ca.pem'), '-CAkey', file('ca.key')],
    ...['-CAcreateserial', '-out', file('server.pem'), '-days', String(days), '-extfile', file('names')],
  );
  return {
    ca: file('ca.pem'),
    cert: file('server.pem'),
    key: file('server.key'),
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}
