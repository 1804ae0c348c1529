import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, extname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.webmanifest': 'application/manifest+json',
};

/** One file of the built page, kept in memory with its packed form. */
export interface PageFile {
  readonly type: string;
  readonly plain: Buffer;
  readonly packed: Buffer;
  /** True when its name carries a hash of its content, so that it may be kept for ever. */
  readonly lasting: boolean;
}

/** The folder of the built page, seen from the source and from dist alike. */
export function builtPageFolder(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, 'package.json'))) {
    const above = dirname(folder);
    if (above === folder) throw new Error('Cannot find the package that the page belongs to.');
    folder = above;
  }
  return join(folder, 'dist/page');
}

/** Loads the built page by path (`/app-3FA2.js`). Throws when it was not built. */
export function loadPageFiles(folder: string): ReadonlyMap<string, PageFile> {
  if (!existsSync(join(folder, 'index.html')))
    throw new Error(`Cannot serve the page: ${folder} holds no index.html; run "npm run build" first.`);
  return new Map(
    readdirSync(folder)
      .filter((name) => TYPES[extname(name)] !== undefined)
      .map((name) => {
        const plain = readFileSync(join(folder, name));
        const file: PageFile = {
          type: TYPES[extname(name)] ?? 'application/octet-stream',
          plain,
          packed: gzipSync(plain, { level: 9 }),
          lasting: /-[A-Z0-9]{8}\./.test(name),
        };
        return [`/${name}`, file] as const;
      }),
  );
}
