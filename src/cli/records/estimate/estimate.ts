import type { Command } from 'commander';
import { estimateBlock } from '../../../drying/estimate.js';
import { createSpeech } from '../../../watering/sentences/speech.js';
import { unitsHere } from '../../config/asked-config.js';
import { EXIT } from '../../program/exit-status.js';
import { columnsOf } from '../../terminal/fitted.js';
import { withJson } from '../../terminal/json-option.js';
import { type EstimateOptions, readEstimateOptions } from './estimate-options.js';
import { estimateTable } from './estimate-table.js';
import { AIR_WORDS, COVER_WORDS, LIGHT_WORDS, STAGE_WORDS } from './words.js';

/** Width when the output goes into a file or another program. */
const FILE_COLUMNS = 160;

/** Beyond the horizon and not given are `null` in JSON. */
const absentAsNull = (_key: string, value: unknown): unknown => value ?? null;

function estimate(options: EstimateOptions & { readonly json?: true }): void {
  const request = readEstimateOptions({ ...options, units: options.units ?? unitsHere() });
  if (!request.ok) {
    for (const problem of request.problems) console.error(problem);
    process.exitCode = EXIT.usedWrongly;
    return;
  }
  const { climate, trays, units } = request;
  const estimates = trays.map((tray) => estimateBlock(climate, tray));
  if (options.json === true)
    process.stdout.write(`${JSON.stringify({ climate, trays: estimates }, absentAsNull, 2)}\n`);
  else
    console.log(
      estimateTable(
        climate,
        trays,
        estimates,
        createSpeech({ timeZone: 'UTC', units }).words,
        Math.min(columnsOf(process.stdout), FILE_COLUMNS),
      ),
    );
}

const list = (words: Readonly<Record<string, unknown>>): string => Object.keys(words).join(', ');
const collect = (text: string, before: readonly string[] | undefined): readonly string[] => [
  ...(before ?? []),
  text,
];

const EXAMPLES = `
Examples:
  drybell estimate                                       20 °C, 60 %, a mixed day
  drybell estimate --temperature 28 --humidity 45 --light blazing --air fan
  drybell estimate --temperature 70F --night 55F --units us --block 3/4in:280 --block 2in
  drybell estimate --stage sown --cover tight-dome --json`;

/** `drybell estimate`: how long blocks last, with no hardware at all. */
export function register(program: Command): void {
  withJson(program.command('estimate'), 'estimate-report')
    .description('Tell how long blocks of each size last in a given climate; needs no hardware.')
    .option('--temperature <degrees>', 'air temperature by day, such as 21 or 70F', '20C')
    .option('--night <degrees>', 'air temperature at night, when it differs')
    .option('--humidity <percent>', 'relative humidity by day', '60')
    .option('--air <speed>', `air movement: ${list(AIR_WORDS)}, or m/s`, 'gentle')
    .option(
      '--light <amount>',
      `sun on the bench: ${list(LIGHT_WORDS)}, or MJ/m2 a day, or a mean as 20klx`,
      'mixed',
    )
    .option('--day-length <hours>', 'hours of daylight', '13')
    .option('--bottom-heat <W/m2>', 'heat of a mat or pipes under the trays, mean of day and night')
    .option('--stage <stage>', `growth: ${list(STAGE_WORDS)}, or days since they came up`, 'cotyledons')
    .option('--cover <cover>', `cover: ${COVER_WORDS.join(', ')}`, 'none')
    .option(
      '--block <side[:count]>',
      'block side and blocks to a tray, such as 25mm, 3/4in:280; may be given often',
      collect,
    )
    .option(
      '--units <units>',
      'metric, us, or a mixture such as "mL, F, in"; those of the farm in this folder when absent, else metric',
    )
    .addHelpText('after', EXAMPLES)
    .action(estimate);
}
