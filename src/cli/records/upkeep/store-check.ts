import type { Command } from 'commander';
import type { StoreCheckReport } from '../../../../shared/cli-reports.js';
import { checkStore, type StoreReport } from '../../../store/check-store.js';
import { askedConfig } from '../../config/asked-config.js';
import { EXIT } from '../../program/exit-status.js';
import { realClock } from '../../program/real-clock.js';
import { type JsonFlag, printJson, withJson } from '../../terminal/json-option.js';

type Lost = Pick<StoreReport, 'aside' | 'asideStates' | 'unreadableCount'>;

/** What was set aside, and what to do about it. */
function lostLines({ aside, asideStates, unreadableCount }: Lost): readonly string[] {
  return [
    ...aside.map(
      (file) => `  ${file}: could not be read and was set aside. Move it away when it is no longer needed.`,
    ),
    ...asideStates.map((name) => `  "${name}": could not be read and was built anew; kept in the store.`),
    ...(unreadableCount === 0
      ? []
      : [`  ${unreadableCount} journal entries cannot be read: bytes of them were changed on the disk.`]),
  ];
}

function reportLines({
  path,
  bytes,
  damage,
  readingCount,
  factCount,
  spool,
  ...report
}: StoreReport): readonly string[] {
  if (damage.length > 0)
    return [
      `${path}: damaged. ${damage.length} problems, the first: ${damage[0]}`,
      'Stop the monitor, keep a copy of the folder, and put the last backup in its place.',
    ];
  const lost = lostLines(report);
  const sound = `${path}: ${lost.length === 0 ? 'sound' : 'whole as a file, but not all that was kept is in it'}. ${(bytes / 1e6).toFixed(1)} MB, ${readingCount} readings, ${factCount} journal entries.`;
  if (spool === undefined) return [sound, ...lost];
  const reasons = new Map<string, number>();
  for (const { reason } of spool.quarantined) reasons.set(reason, (reasons.get(reason) ?? 0) + 1);
  return [
    sound,
    ...lost,
    `${spool.waitingCount} facts wait for InfluxDB, ${spool.quarantined.length} were refused by it.`,
    ...[...reasons].map(([reason, count]) => `  ${count} refused: ${reason}`),
    ...(spool.releasedCount > 0 ? [`${spool.releasedCount} of them are sent once more.`] : []),
  ];
}

function asData({ spool, damage, aside, asideStates, ...report }: StoreReport): StoreCheckReport {
  return {
    ...report,
    damage: [...damage],
    aside: [...aside],
    asideStates: [...asideStates],
    ...(spool === undefined
      ? {}
      : {
          spool: {
            waitingCount: spool.waitingCount,
            refusedCount: spool.quarantined.length,
            releasedCount: spool.releasedCount,
          },
        }),
  };
}

const EXAMPLES = `
Examples:
  drybell store-check
  drybell store-check --config farm.jsonc --send-refused`;

/** `drybell store-check`: is the store sound, and what does InfluxDB refuse? */
export function register(program: Command): void {
  withJson(program.command('store-check'), 'store-report')
    .description('Check the store from end to end, and say what waits for InfluxDB or was refused by it.')
    .option('--send-refused', 'send what InfluxDB refused once more, after its schema was mended')
    .option('--config <file>', 'configuration of the farm')
    .addHelpText('after', EXAMPLES)
    .action(async (options: JsonFlag & { readonly config?: string; readonly sendRefused?: true }) => {
      const { store } = askedConfig(options.config);
      const report = checkStore(store.folder, options.sendRefused === true, realClock.nowMs());
      if (options.json === true) printJson(asData(report));
      else for (const line of reportLines(report)) console.log(line);
      if (report.damage.length > 0 || report.aside.length > 0 || report.unreadableCount > 0)
        process.exitCode = EXIT.notWell;
    });
}
