import { statSync } from 'node:fs';
import { isSealed } from '../../../shared/config/asked-word.js';
import type { FarmConfig } from '../../../shared/config/farm.js';
import type { Tried } from './tried.js';

const READABLE_BY_ALL = 0o004;

/** Where a password or key stands in clear. */
function secretsInClear({ messaging, page, store }: FarmConfig): readonly string[] {
  const words: readonly (readonly [string, string | undefined])[] = [
    ['messaging.password', messaging.password],
    ...messaging.logins.map(
      ({ password }, index) => [`messaging.logins.${index}.password`, password] as const,
    ),
    ...messaging.webhooks.map(({ secret }, index) => [`messaging.webhooks.${index}.secret`, secret] as const),
    ['page.accessWord', page.accessWord],
    ['store.influx.password', store.influx?.password],
  ];
  return words.flatMap(([where, word]) => (word === undefined || isSealed(word) ? [] : [where]));
}

/** A configuration that everybody on the machine can read, with a password in it. */
export function secretFileFindings(config: FarmConfig, file: string): readonly Tried[] {
  const mode = statSync(file, { throwIfNoEntry: false })?.mode ?? 0;
  const [first, ...more] = secretsInClear(config);
  if (first === undefined || (mode & READABLE_BY_ALL) === 0) return [];
  const which = [first, ...more].join(', ');
  return [
    {
      what: 'secrets',
      ok: false,
      sentence: `every user of this machine can read ${which} in ${file}: chmod 640 it, its group the service's; or seal what Drybell asks for with "drybell password"`,
      path: first.split('.'),
    },
  ];
}
