import { existsSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { Command } from 'commander';
import pc from 'picocolors';
import { STORE_FILE } from '../../store/sqlite/file/store-file.js';
import { findConfig } from '../config/find-config.js';
import { loadConfig } from '../config/load-config.js';

/** A store in the folder in which the command was typed, where it was kept once; undefined when the farm has its own. */
function storeElsewhere(folder: string): string | undefined {
  const here = join(process.cwd(), basename(folder));
  const isElsewhere = here !== folder && existsSync(join(here, STORE_FILE));
  return isElsewhere && !existsSync(join(folder, STORE_FILE)) ? here : undefined;
}

async function run(options: { readonly config?: string }): Promise<void> {
  const file = findConfig(options.config, process.cwd(), process.env);
  if (file === undefined) {
    console.log(
      pc.dim(
        'No drybell.jsonc here: this is the demo. Your own farm begins with shared/examples/alder-row.jsonc.',
      ),
    );
    const { runDemo } = await import('./run-demo.js');
    return runDemo();
  }
  const config = loadConfig(file);
  const elsewhere = storeElsewhere(config.store.folder);
  if (elsewhere !== undefined)
    console.error(
      `There is a store in ${elsewhere}, and it is not used: the store of ${file} is in ${config.store.folder}. If it is this farm's, stop Drybell and move it there.`,
    );
  const { runLive } = await import('./run-live.js');
  await runLive(config, file);
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
