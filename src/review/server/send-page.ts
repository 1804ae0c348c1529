import type { IncomingMessage, ServerResponse } from 'node:http';
import { gzip } from 'node:zlib';
import type { House } from './house/house.js';
import type { PageFile } from './house/page-files.js';

const PRESENT_MARK = '"@present@"';
const LANGUAGE_MARK = '<html lang="en">';
const MANIFEST = '/drybell.webmanifest';
/** Hints to fetch a language's table early, one line each. */
const LANGUAGE_HINT = /<link [^>]*data-language="([a-z]+)">\n/g;

export function sendPageFile(request: IncomingMessage, response: ServerResponse, file: PageFile): void {
  const packed = /\bgzip\b/.test(request.headers['accept-encoding'] ?? '');
  const bytes = packed ? file.packed : file.plain;
  response.writeHead(200, {
    'Content-Type': file.type,
    'Content-Length': bytes.length,
    'Cache-Control': file.lasting ? 'public, max-age=31536000, immutable' : 'no-cache',
    Vary: 'Accept-Encoding',
    ...(packed ? { 'Content-Encoding': 'gzip' } : {}),
  });
  response.end(request.method === 'HEAD' ? undefined : bytes);
}

/** The page with the present inside it, so that a slow phone draws the farm after one round trip. */
export function sendIndex(house: House, request: IncomingMessage, response: ServerResponse): void {
  const file = house.files.get('/index.html');
  if (file === undefined) throw new Error('the built page lost its index.html');
  const present = house.word.admits(request) ? house.teller.picture() : null;
  // "<" is escaped so that no text of the farm (a crop, a sentence) can end the script element.
  const json = JSON.stringify(present).replaceAll('<', '\\u003c');
  const { language } = house.config;
  const html = Buffer.from(
    file.plain
      .toString('utf8')
      .replace(LANGUAGE_MARK, `<html lang="${language}">`)
      .replace(MANIFEST, language === 'en' ? MANIFEST : `/drybell.${language}.webmanifest`)
      .replaceAll(LANGUAGE_HINT, (hint, of: string) => (of === language ? hint : ''))
      .replace(PRESENT_MARK, () => json),
  );
  gzip(html, { level: 5 }, (error, packed) => {
    const usePacked = error === null && /\bgzip\b/.test(request.headers['accept-encoding'] ?? '');
    response.writeHead(200, {
      'Content-Type': file.type,
      'Cache-Control': 'no-store',
      ...(usePacked ? { 'Content-Encoding': 'gzip' } : {}),
    });
    response.end(request.method === 'HEAD' ? undefined : usePacked ? packed : html);
  });
}
