import type { Command } from 'commander';
import { ConfigError, loadConfig } from '../../config/load-config.js';
import { findConfig } from '../house/find-config.js';

const UNUSABLE = 2;

function check(options: { readonly config?: string }): void {
  const file = findConfig(options.config, process.cwd(), process.env) ?? 'drybell.jsonc';
  try {
    const { farm, benches, trays, probes, boards } = loadConfig(file);
    console.log(
      `${file}: fits. Farm ${farm}: ${benches.length} benches, ${trays.length} trays, ${probes.length} probes, ${boards.length} boards.`,
    );
  } catch (error) {
    if (!(error instanceof ConfigError)) throw error;
    console.error(error.message);
    process.exitCode = UNUSABLE;
  }
}

/** `drybell check`: reads a configuration and says what does not fit. */
export function register(program: Command): void {
  program
    .command('check')
    .description('Read the configuration and say what does not fit, all at once.')
    .option('--config <file>', 'configuration (drybell.jsonc or drybell.json in this folder when absent)')
    .action(check);
}
