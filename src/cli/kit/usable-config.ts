import type { FarmConfig } from '../../../shared/config/farm.js';
import { ConfigError, loadConfig } from '../../config/load-config.js';
import { findConfig } from '../house/find-config.js';

/** Exit status when a command can't do its work as asked. */
export const unusableStatus = 2;

export interface UsableConfig {
  readonly file: string;
  readonly farm: FarmConfig;
}

/** The configuration to work with; undefined, all problems told and the exit status set, when it can't be used. */
export function usableConfig(named: string | undefined): UsableConfig | undefined {
  const file = findConfig(named, process.cwd(), process.env) ?? 'drybell.jsonc';
  try {
    return { file, farm: loadConfig(file) };
  } catch (error) {
    if (!(error instanceof ConfigError)) throw error;
    console.error(error.message);
    process.exitCode = unusableStatus;
    return undefined;
  }
}
