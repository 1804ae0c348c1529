import type { Command } from 'commander';
import pc from 'picocolors';
import { loadConfig } from '../../config/load-config.js';
import { findConfig } from '../house/find-config.js';

async function run(options: { readonly config?: string }): Promise<void> {
  const file = findConfig(options.config, process.cwd(), process.env);
  if (file === undefined) {
    console.log(
      pc.dim(
        'No drybell.jsonc here: this is the demo. Your own farm begins with shared/examples/alder-row.jsonc.',
      ),
    );
    const { runDemo } = await import('../house/run-demo.js');
    return runDemo();
  }
  const config = loadConfig(file);
  const { runLive } = await import('../house/run-live.js');
  await runLive(config);
}

/** `drybell run`, also what happens without a command. */
export function register(program: Command): void {
  program
    .command('run', { isDefault: true })
    .description('Watch the farm of the configuration; without one, run the demo.')
    .option('--config <file>', 'configuration (drybell.jsonc or drybell.json in this folder when absent)')
    .addHelpText(
      'after',
      '\nExamples:\n  drybell                        drybell.jsonc in this folder, or the demo\n  drybell run --config farm.jsonc',
    )
    .action(run);
}
