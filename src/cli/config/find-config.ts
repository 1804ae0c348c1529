import { existsSync } from 'node:fs';
import { join } from 'node:path';

const NAMES = ['drybell.jsonc', 'drybell.json'];

/**
 * The configuration to run with: the one that was named, else DRYBELL_CONFIG, else drybell.jsonc or drybell.json in
 * the folder. Undefined when there is none: then the demo runs.
 */
export function findConfig(
  named: string | undefined,
  folder: string,
  env: NodeJS.ProcessEnv,
): string | undefined {
  if (named !== undefined) return named;
  if (env['DRYBELL_CONFIG'] !== undefined && env['DRYBELL_CONFIG'] !== '') return env['DRYBELL_CONFIG'];
  return NAMES.map((name) => join(folder, name)).find((file) => existsSync(file));
}
