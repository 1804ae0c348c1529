import { join } from 'node:path';
import type { Command } from 'commander';
import type { RejectedRow } from '../../worlds/replay/csv-table.js';
import { type ReplaySummary, resultFiles } from '../../worlds/replay/results.js';
import { runReplay } from '../../worlds/replay/run-replay.js';
import { loadConfig } from '../config/load-config.js';
import { refuseReplacing, withForce } from '../program/may-write.js';
import { createFarmParts } from '../running/house-parts/farm-parts.js';
import { printJson, withJson } from '../terminal/json-option.js';
import { showProgress } from '../terminal/progress.js';
import { replayIntoStore } from './look/replay-into-store.js';

interface ReplayOptions {
  readonly config: string;
  readonly readings: string;
  readonly log?: string;
  readonly out: string;
  readonly store?: string;
  readonly quiet?: true;
  readonly force?: true;
  readonly json?: true;
}

/** Rows left out that are printed in full; the summary in the results holds all of them. */
const PRINTED_ROWS = 20;

function summaryLines(summary: ReplaySummary, out: string): string {
  const { waterings } = summary;
  return [
    `${summary.readings} readings and ${summary.logRows} log rows replayed, ${summary.rejected} rows left out`,
    `from ${summary.from ?? 'nowhere'} to ${summary.to ?? 'nowhere'}`,
    `${summary.forecasts} forecasts, ${summary.roundNotices} round notices, ${summary.calls} calls, ${summary.alarmTransitions} alarm transitions`,
    `${waterings.logged} waterings told, ${waterings.detected} seen by probes only, ${summary.dryDowns} dry-downs`,
    `results in ${out}`,
  ].join('\n');
}

async function replay({
  config: configFile,
  readings,
  log,
  out,
  store,
  quiet,
  force,
  json,
}: ReplayOptions): Promise<void> {
  const config = loadConfig(configFile);
  refuseReplacing(resultFiles(out), force);
  const progress = showProgress('the readings played');
  let rejected = 0;
  const input = {
    config,
    readingsFile: readings,
    logFile: log,
    outFolder: out,
    onProgress: (share: number) => {
      if (quiet !== true) progress.at(share);
    },
    onReject: ({ file, row, reason }: RejectedRow) => {
      rejected += 1;
      if (rejected <= PRINTED_ROWS) console.error(`${file}: row ${row}: ${reason}; the row is left out`);
    },
  };
  const summary = await (store === undefined
    ? runReplay({
        ...input,
        createPipeline: (startMs) => createFarmParts(config, { startMs, drive: 'replay' }).pipeline,
      })
    : replayIntoStore(input, store)
  ).finally(() => progress.end());
  if (rejected > PRINTED_ROWS)
    console.error(`... and ${rejected - PRINTED_ROWS} rows more; all stand in ${join(out, 'summary.json')}`);
  if (json === true) printJson(summary);
  else if (quiet !== true) console.log(summaryLines(summary, out));
}

/** `drybell replay`: the whole pipeline on recorded data. */
export function register(program: Command): void {
  withJson(withForce(program.command('replay')), 'replay-summary')
    .description(
      'Run the whole monitor on recorded readings, as fast as it can; two runs give the same bytes.',
    )
    .requiredOption('--config <file>', 'configuration of the farm')
    .requiredOption('--readings <file>', 'CSV with the header time,probe,value; values in raw units')
    .option(
      '--log <file>',
      'what the grower wrote down: CSV with the header time,tray,event[,ml,bench,toTray,grams,level]',
    )
    .requiredOption('--out <folder>', 'folder for the results: forecasts, alarms, rounds, waterings, summary')
    .option('--store <folder>', 'fill a store too: then review, curves and export work on the recording')
    .option('--quiet', 'print nothing but problems')
    .addHelpText(
      'after',
      '\nExample:\n  drybell replay --config farm.jsonc --readings readings.csv --log log.csv --out results\n\nA logger in another form: drybell convert --help',
    )
    .action(replay);
}
