import type { Command } from 'commander';
import { askedConfig } from '../../config/asked-config.js';
import { realClock } from '../../program/real-clock.js';
import { type JsonFlag, printJson, withJson } from '../../terminal/json-option.js';
import { showProgress } from '../../terminal/progress.js';

const EXAMPLES = `
Examples:
  drybell restore alder-row-2026-04-18.db
  drybell restore backup.db --force       a store that is there is set aside under a dated name
On a new machine: install Drybell, bring configuration and backup, restore, start.`;

/** `drybell restore`: a backup takes the store's place. */
export function register(program: Command): void {
  withJson(program.command('restore'), 'restore-report')
    .description('Put a backup in the place of the store; the monitor must be stopped.')
    .argument('<file>', 'what "drybell backup" wrote')
    .option('--config <file>', 'configuration of the farm')
    .option('--force', 'set aside a store that is there')
    .addHelpText('after', EXAMPLES)
    .action(async (file: string, options: JsonFlag & { readonly config?: string; readonly force?: true }) => {
      const { store } = askedConfig(options.config);
      const [{ restoreStore }, { keepPrivate }] = await Promise.all([
        import('../../../store/sqlite/upkeep/restore.js'),
        import('../../../host/disk/keep-private.js'),
      ]);
      keepPrivate(store.folder);
      const progress = showProgress('the store put back');
      const report = restoreStore(file, store.folder, {
        replace: options.force === true,
        nowMs: realClock.nowMs(),
        onProgress: (share) => progress.at(share),
      });
      progress.end();
      if (options.json === true) return printJson(report);
      const { path, readingCount, factCount, aside } = report;
      console.log(
        `${path}: ${readingCount} readings, ${factCount} journal entries, checked. Start the monitor.`,
      );
      if (aside !== undefined) console.log(`The store that was there is now "${aside}".`);
    });
}
