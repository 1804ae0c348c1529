import { existsSync, readFileSync } from 'node:fs';

/** The version in the package's file, which stands above the sources and above the compiled program. */
export function programVersion(): string {
  const files = ['../../..', '../../../..'].map((up) => new URL(`${up}/package.json`, import.meta.url));
  const file = files.find((one) => existsSync(one));
  const written = file === undefined ? {} : (JSON.parse(readFileSync(file, 'utf8')) as { version?: string });
  return written.version ?? 'unknown';
}
