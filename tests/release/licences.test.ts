import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { isAllowed, licencesIn, refused } from './licences.js';

const lock = readFileSync(join(dirname(fileURLToPath(import.meta.url)), '../../package-lock.json'), 'utf8');

it('every package that comes along may, and says so', () => {
  const licences = licencesIn(lock);
  expect(licences.map(({ name }) => name)).toEqual(
    expect.arrayContaining(['zod', 'aedes', '@photostructure/sqlite']),
  );
  expect(refused(licences)).toEqual([]);
});

it('development alone is not looked at, what states nothing is refused', () => {
  const packages = {
    '': { license: 'MIT' },
    'node_modules/a': { version: '1.0.0', license: 'GPL-3.0-only' },
    'node_modules/a/node_modules/b': { version: '1.0.0' },
    'node_modules/c': { version: '1.0.0', license: 'GPL-3.0-only', dev: true },
  };
  expect(refused(licencesIn(JSON.stringify({ packages }))).map(({ name }) => name)).toEqual(['a', 'b']);
});

it('an expression is allowed when one of its choices is, whole', () => {
  expect(isAllowed('(MIT OR GPL-3.0-only)')).toBe(true);
  expect(isAllowed('MIT AND GPL-3.0-only')).toBe(false);
  expect(isAllowed('(BSD-2-Clause OR MIT OR Apache-2.0)')).toBe(true);
});

it('every package is pinned: a version, where it comes from, and what its bytes are', () => {
  const { packages } = JSON.parse(lock) as {
    readonly packages: Readonly<Record<string, { readonly integrity?: string; readonly link?: boolean }>>;
  };
  const loose = Object.entries(packages).filter(
    ([path, { integrity, link }]) => path !== '' && link !== true && !/^sha512-/.test(integrity ?? ''),
  );
  expect(loose.map(([path]) => path)).toEqual([]);
});
