import { createPrivateKey, X509Certificate } from 'node:crypto';
import { readFileSync, statSync } from 'node:fs';
import { isIP } from 'node:net';
import { fileTrouble } from '../disk/file-trouble.js';

/** A file as the configuration names it. */
export interface NamedFile {
  /** The key, as it stands in a sentence: `page.certFile`. */
  readonly key: string;
  readonly path: string;
}

/** What a TLS server shows: its certificate (with those above it) and the key. */
export interface CertificatePair {
  readonly cert: Buffer;
  readonly key: Buffer;
}

/** A certificate or key that can't be used; the message says which file and what to do. */
export class CertificateError extends Error {
  override readonly name = 'CertificateError';
  readonly code = 'file-unreadable';
  readonly retryable = false;
}

/** Before its end a certificate is spoken of so long (judgement: time for a weekend). */
const SAID_BEFORE_MS = 7 * 24 * 3_600_000;
const READABLE_BY_ALL = 0o004;

/** Reads a PEM file. Throws CertificateError. */
export function readPem({ key, path }: NamedFile): Buffer {
  let text: Buffer;
  try {
    text = readFileSync(path);
  } catch (cause) {
    throw new CertificateError(`Cannot read ${key} "${path}": ${fileTrouble(cause)}`, { cause });
  }
  if (!text.includes('-----BEGIN '))
    throw new CertificateError(
      `${key} "${path}" is not a PEM file: expected text that begins with "-----BEGIN", as certificates are handed out`,
    );
  return text;
}

/** A certificate and its key. Throws CertificateError when one can't be read, or does not belong to the other. */
export function readCertificatePair(certFile: NamedFile, keyFile: NamedFile): CertificatePair {
  const cert = readPem(certFile);
  const key = readPem(keyFile);
  const names = `${certFile.key} "${certFile.path}" and ${keyFile.key} "${keyFile.path}"`;
  let fits: boolean;
  try {
    fits = new X509Certificate(cert).checkPrivateKey(createPrivateKey(key));
  } catch (cause) {
    throw new CertificateError(
      `Cannot use ${names}: expected a certificate and its key without a passphrase, both PEM`,
      { cause },
    );
  }
  if (!fits)
    throw new CertificateError(
      `${names} do not belong together: name the key that the certificate was made with`,
    );
  return { cert, key };
}

/** Why others will not, or soon will not, believe a certificate that can be read; undefined: nothing is wrong with its dates. */
export function certificateDates(
  { key, path }: NamedFile,
  cert: Buffer,
  nowMs: number,
): { readonly isOver: boolean; readonly sentence: string } | undefined {
  const { validFrom, validTo } = new X509Certificate(cert);
  const [fromMs, toMs] = [Date.parse(validFrom), Date.parse(validTo)];
  const day = (atMs: number): string => new Date(atMs).toISOString().slice(0, 10);
  const said = (isOver: boolean, what: string) => ({ isOver, sentence: `${key} "${path}" ${what}` });
  if (nowMs > toMs) return said(true, `has expired on ${day(toMs)}; renew it, and phones come in again`);
  if (nowMs < fromMs)
    return said(true, `is valid from ${day(fromMs)} on only; check this machine's clock, or wait until then`);
  if (toMs - nowMs < SAID_BEFORE_MS)
    return said(false, `expires on ${day(toMs)}; renew it before phones are kept out`);
  return undefined;
}

/** Names and addresses among these that a certificate does not stand for. */
export function namesNotCovered(cert: Buffer, names: readonly string[]): readonly string[] {
  const read = new X509Certificate(cert);
  return names.filter((name) => (isIP(name) === 0 ? read.checkHost(name) : read.checkIP(name)) === undefined);
}

/** True for a key that every user of this machine can read. */
export function isReadableByAll(path: string): boolean {
  return ((statSync(path, { throwIfNoEntry: false })?.mode ?? 0) & READABLE_BY_ALL) !== 0;
}
