// Lists the packages that come along when Drybell is installed, with their licences, as npm's lock file has them; fails on one that
// is not allowed. `npm run licences`
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

/** Licences under which a package may come along: they ask for their notice to be kept, and nothing of the whole (permissive by the Open Source Initiative's list). */
const ALLOWED: ReadonlySet<string> = new Set([
  '0BSD',
  'Apache-2.0',
  'BlueOak-1.0.0',
  'BSD-2-Clause',
  'BSD-3-Clause',
  'ISC',
  'MIT',
  'Unlicense',
]);

/** Packages whose lock entry names none, with where it was read. */
const READ_BY_HAND: ReadonlyMap<string, string> = new Map([
  ['temporal', 'MIT'], // its LICENSE-MIT
]);

export interface Licence {
  readonly name: string;
  readonly version: string;
  /** SPDX expression; absent: none is stated. */
  readonly licence: string | undefined;
}

interface LockEntry {
  readonly version?: string;
  readonly license?: string;
  readonly dev?: boolean;
}

/** What is installed without development's own packages, from the text of a lock file of version 2 or 3. */
export function licencesIn(lockText: string): readonly Licence[] {
  const { packages } = JSON.parse(lockText) as { readonly packages: Readonly<Record<string, LockEntry>> };
  return Object.entries(packages).flatMap(([path, { version = '', license, dev }]) => {
    const name = path.split('node_modules/').at(-1) ?? '';
    if (name === '' || dev === true) return [];
    return [{ name, version, licence: license ?? READ_BY_HAND.get(name) }];
  });
}

/** Whether an SPDX expression leaves a choice that is allowed: one of those joined by OR, all of those joined by AND. */
export function isAllowed(licence: string | undefined): boolean {
  if (licence === undefined) return false;
  return licence
    .replace(/[()]/g, '')
    .split(/ OR /)
    .some((choice) => choice.split(/ AND /).every((one) => ALLOWED.has(one.trim())));
}

export function refused(licences: readonly Licence[]): readonly Licence[] {
  return licences.filter(({ licence }) => !isAllowed(licence));
}

function main(): number {
  const licences = licencesIn(readFileSync(join(process.cwd(), 'package-lock.json'), 'utf8'));
  for (const { name, version, licence } of licences)
    console.log(`${name} ${version}\t${licence ?? 'none stated'}`);
  const wrong = refused(licences);
  for (const { name, licence } of wrong)
    console.error(`${name}: ${licence ?? 'no licence stated'} is not among ${[...ALLOWED].join(', ')}`);
  return wrong.length === 0 ? 0 : 1;
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) process.exitCode = main();
