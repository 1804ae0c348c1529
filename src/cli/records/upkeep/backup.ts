import type { Command } from 'commander';
import { backUpStore } from '../../../store/sqlite/upkeep/backup.js';
import { askedConfig } from '../../config/asked-config.js';
import { type JsonFlag, printJson, withJson } from '../../terminal/json-option.js';
import { showProgress } from '../../terminal/progress.js';

const EXAMPLES = `
Examples:
  drybell backup --out alder-row-2026-04-18.db
  drybell backup --config farm.jsonc --out backup.db`;

/** `drybell backup`: a copy of the embedded store, safe while the monitor runs. */
export function register(program: Command): void {
  withJson(program.command('backup'), 'backup-report')
    .description('Copy the store to one file while the monitor goes on; the copy is checked.')
    .requiredOption('--out <file>', 'the backup; must not exist yet')
    .option('--config <file>', 'configuration of the farm')
    .addHelpText('after', EXAMPLES)
    .action(async (options: JsonFlag & { readonly out: string; readonly config?: string }) => {
      const { store } = askedConfig(options.config);
      const progress = showProgress('the backup made');
      const report = await backUpStore(store.folder, options.out, (share) => progress.at(share)).finally(() =>
        progress.end(),
      );
      if (options.json === true) return printJson(report);
      const { path, bytes, readingCount, factCount } = report;
      console.log(
        `${path}: ${(bytes / 1e6).toFixed(1)} MB, ${readingCount} readings, ${factCount} journal entries, checked. To put it back: drybell restore ${path}`,
      );
      if (store.influx !== undefined)
        console.log(
          `The history itself is in InfluxDB at ${store.influx.url}; back that up with its own tools.`,
        );
    });
}
