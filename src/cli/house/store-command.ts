import { InvalidArgumentError } from 'commander';
import type { FarmConfig } from '../../../shared/config/farm.js';
import { ConfigError, loadConfig } from '../../config/load-config.js';
import { StoreError } from '../../store/store-error.js';
import { findConfig } from './find-config.js';

const UNUSABLE = 2;
const FAILED = 1;

/** The configuration that a store's command works on. Throws ConfigError. */
export function askedConfig(named: string | undefined): FarmConfig {
  return loadConfig(findConfig(named, process.cwd(), process.env) ?? 'drybell.jsonc');
}

/** Runs a command on the store: what can be expected to go wrong becomes one message and an exit status. */
export async function tellProblems(work: () => Promise<void>): Promise<void> {
  try {
    await work();
  } catch (error) {
    if (error instanceof ConfigError || error instanceof InvalidArgumentError) process.exitCode = UNUSABLE;
    else if (error instanceof StoreError) process.exitCode = FAILED;
    else throw error;
    console.error(error.message);
  }
}
