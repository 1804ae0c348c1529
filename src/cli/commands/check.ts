import type { Command } from 'commander';
import pc from 'picocolors';
import type { FarmConfig } from '../../../shared/config/farm.js';
import { ConfigError, loadConfig } from '../../config/load-config.js';
import { findConfig } from '../house/find-config.js';

interface CheckOptions {
  readonly config?: string;
  readonly configOnly?: true;
}

const UNUSABLE = 2;
const FAILED = 1;

function usable(file: string): FarmConfig | undefined {
  try {
    return loadConfig(file);
  } catch (error) {
    if (!(error instanceof ConfigError)) throw error;
    console.error(error.message);
    process.exitCode = UNUSABLE;
    return undefined;
  }
}

async function check({ config: named, configOnly }: CheckOptions): Promise<void> {
  const file = findConfig(named, process.cwd(), process.env) ?? 'drybell.jsonc';
  const config = usable(file);
  if (config === undefined) return;
  const { farm, benches, trays, probes, boards } = config;
  console.log(
    `${file}: fits. Farm ${farm}: ${benches.length} benches, ${trays.length} trays, ${probes.length} probes, ${boards.length} boards.`,
  );
  if (configOnly === true) return;
  const { tryParts } = await import('../house/try-parts.js');
  const tried = await tryParts(config);
  const width = Math.max(...tried.map(({ what }) => what.length));
  for (const { what, ok, sentence } of tried)
    console.log(`  ${ok ? pc.green('works') : pc.red('FAILS')}  ${what.padEnd(width)}  ${sentence}`);
  if (tried.some(({ ok }) => !ok)) process.exitCode = FAILED;
}

/** `drybell check`: reads a configuration, tries what it names, and says what does not work. */
export function register(program: Command): void {
  program
    .command('check')
    .description(
      'Read the configuration, try boards, broker and store, and say what to do about what does not work.',
    )
    .option('--config <file>', 'configuration (drybell.jsonc or drybell.json in this folder when absent)')
    .option('--config-only', 'read the configuration, try nothing')
    .addHelpText('after', '\nExamples:\n  drybell check\n  drybell check --config farm.jsonc --config-only')
    .action(check);
}
