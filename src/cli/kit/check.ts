import type { Command } from 'commander';
import pc from 'picocolors';
import type { CheckReport } from '../../../shared/cli-reports.js';
import { askedFile } from '../config/asked-config.js';
import { placeText } from '../config/json-text.js';
import { loadPlacedConfig, type PlacedConfig } from '../config/load-config.js';
import type { Tried } from '../config/tried.js';
import { EXIT } from '../program/exit-status.js';
import { realClock } from '../program/real-clock.js';
import { printJson, withJson } from '../terminal/json-option.js';

interface CheckOptions {
  readonly config?: string;
  readonly configOnly?: true;
  readonly json?: true;
}

const EXAMPLES = `
Examples:
  drybell check                                     also beside the running monitor
  drybell check --config farm.jsonc --config-only   reads the file, tries nothing
Exit status: 0 all is well; 1 something is not; 2 the configuration can't be read.`;

/** A finding with its place in the text of the configuration. */
function reported(
  { json }: PlacedConfig,
  { what, ok, better, sentence, path }: Tried,
): CheckReport['findings'][number] {
  return {
    what,
    ok,
    ...(better === undefined ? {} : { better }),
    sentence,
    ...(path === undefined ? {} : { ...json.placeOf(path), name: json.nameOf(path) }),
  };
}

function printed(
  { what, ok, better, sentence, line, column }: CheckReport['findings'][number],
  width: number,
): string {
  const isWell = ok && better === undefined;
  const word = isWell ? pc.green('works ') : ok ? pc.yellow('better') : pc.red('FAILS ');
  const where =
    isWell || line === undefined || column === undefined ? '' : ` (${placeText({ line, column })})`;
  return `  ${word}  ${what.padEnd(width)}  ${sentence}${where}`;
}

function counted(count: number, one: string, several = `${one}s`): string {
  return `${count} ${count === 1 ? one : several}`;
}

async function check({ config: named, configOnly, json }: CheckOptions): Promise<void> {
  const file = askedFile(named);
  const config = loadPlacedConfig(file);
  const { farm, benches, trays, probes, boards } = config.farm;
  const [{ farmFindings }, { kitFindings }, { secretFileFindings }, { certificateFindings }] =
    await Promise.all([
      import('../config/farm-rules.js'),
      import('../config/kit-findings.js'),
      import('../config/secret-file.js'),
      import('../config/certificate-findings.js'),
    ]);
  const judged = [
    ...farmFindings(config.farm, realClock.nowMs()),
    ...kitFindings(config.farm),
    ...secretFileFindings(config.farm, file),
    ...certificateFindings(config.farm, realClock.nowMs()),
  ];
  const tried =
    configOnly === true ? [] : await (await import('./trying/try-parts.js')).tryParts(config.farm);
  const findings = [...judged, ...tried].map((one) => reported(config, one));
  if (findings.some(({ ok }) => !ok)) process.exitCode = EXIT.notWell;
  if (json === true) {
    printJson({ file, farm, findings } satisfies CheckReport);
    return;
  }
  console.log(
    `${file}: can be read. Farm ${farm}: ${counted(benches.length, 'bench', 'benches')}, ${counted(trays.length, 'tray')}, ${counted(probes.length, 'probe')}, ${counted(boards.length, 'board')}. Its store is in ${config.farm.store.folder}.`,
  );
  const width = Math.max(0, ...findings.map(({ what }) => what.length));
  for (const finding of findings) console.log(printed(finding, width));
}

/** `drybell check`: reads a configuration, tries what it names, and says what does not work. */
export function register(program: Command): void {
  withJson(program.command('check'), 'check-report')
    .description(
      'Read the configuration, judge wiring, rounds and what is open to the network, try boards, broker and store, and say what to do about what is not well.',
    )
    .option('--config <file>', 'configuration (drybell.jsonc or drybell.json in this folder when absent)')
    .option('--config-only', 'read and judge the configuration, try nothing')
    .addHelpText('after', EXAMPLES)
    .action(check);
}
