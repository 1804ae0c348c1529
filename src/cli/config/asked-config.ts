import type { FarmConfig } from '../../../shared/config/farm.js';
import { findConfig } from './find-config.js';
import { loadConfig } from './load-config.js';

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
