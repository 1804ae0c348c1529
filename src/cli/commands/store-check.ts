import type { Command } from 'commander';
import { checkStore, type StoreReport } from '../../store/check-store.js';
import { askedConfig, tellProblems } from '../house/store-command.js';

const DAMAGED = 1;

function reportLines({
  path,
  bytes,
  damage,
  readingCount,
  factCount,
  spool,
}: StoreReport): readonly string[] {
  if (damage.length > 0)
    return [
      `${path}: damaged. ${damage.length} problems, the first: ${damage[0]}`,
      'Stop the monitor, keep a copy of the folder, and put the last backup in its place.',
    ];
  const sound = `${path}: sound. ${(bytes / 1e6).toFixed(1)} MB, ${readingCount} readings, ${factCount} journal entries.`;
  if (spool === undefined) return [sound];
  const reasons = new Map<string, number>();
  for (const { reason } of spool.quarantined) reasons.set(reason, (reasons.get(reason) ?? 0) + 1);
  return [
    sound,
    `${spool.waitingCount} facts wait for InfluxDB, ${spool.quarantined.length} were refused by it.`,
    ...[...reasons].map(([reason, count]) => `  ${count} refused: ${reason}`),
    ...(spool.releasedCount > 0 ? [`${spool.releasedCount} of them are sent once more.`] : []),
  ];
}

const EXAMPLES = `
Examples:
  drybell store-check
  drybell store-check --config farm.jsonc --send-refused`;

/** `drybell store-check`: is the store sound, and what does InfluxDB refuse? */
export function register(program: Command): void {
  program
    .command('store-check')
    .description('Check the store from end to end, and say what waits for InfluxDB or was refused by it.')
    .option('--send-refused', 'send what InfluxDB refused once more, after its schema was mended')
    .option('--config <file>', 'configuration of the farm')
    .addHelpText('after', EXAMPLES)
    .action((options: { readonly config?: string; readonly sendRefused?: true }) =>
      tellProblems(async () => {
        const { store } = askedConfig(options.config);
        const report = checkStore(store.folder, options.sendRefused === true);
        for (const line of reportLines(report)) console.log(line);
        if (report.damage.length > 0) process.exitCode = DAMAGED;
      }),
    );
}
