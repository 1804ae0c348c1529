import { existsSync } from 'node:fs';
import type { FarmConfig } from '../../../shared/config/farm.js';
import { type UnitsConfig, unitsSchema } from '../../../shared/config/notices.js';
import { findConfig } from './find-config.js';
import { ConfigError, loadConfig } from './load-config.js';

/** The configuration file that a command works on: named, of the environment, or in this folder. */
export function askedFile(named: string | undefined): string {
  return findConfig(named, process.cwd(), process.env) ?? 'drybell.jsonc';
}

/** A configuration and the file it came from. */
export interface AskedFarm {
  readonly file: string;
  readonly farm: FarmConfig;
}

/** The configuration that a command works on, with its file. Throws ConfigError. */
export function askedFarm(named: string | undefined): AskedFarm {
  const file = askedFile(named);
  return { file, farm: loadConfig(file) };
}

/** The configuration that a command works on. Throws ConfigError. */
export function askedConfig(named: string | undefined): FarmConfig {
  return askedFarm(named).farm;
}

/** The units of the farm in this folder, for a command that wants no farm; metric where there is none that can be read. */
export function unitsHere(): UnitsConfig {
  const file = findConfig(undefined, process.cwd(), process.env);
  if (file === undefined || !existsSync(file)) return unitsSchema.parse({});
  try {
    return loadConfig(file).units;
  } catch (cause) {
    if (!(cause instanceof ConfigError)) throw cause;
    return unitsSchema.parse({});
  }
}
