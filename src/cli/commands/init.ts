import { existsSync } from 'node:fs';
import { createInterface } from 'node:readline/promises';
import type { Command } from 'commander';
import { parseConfig } from '../../config/load-config.js';
import { type FirstFarm, firstConfigText } from '../../config/write-config.js';
import { writeWhole } from '../../disk/write-whole.js';
import { EXIT } from '../exit-status.js';

interface InitOptions {
  readonly farm?: string;
  readonly timeZone?: string;
  readonly rounds?: string;
  readonly benches?: string;
  readonly latitude?: string;
  readonly longitude?: string;
  readonly out: string;
  readonly force?: true;
}

const EXAMPLES = `
Examples:
  drybell init                       asks
  drybell init --farm alder-row --time-zone Europe/Berlin --rounds 07:00,18:00 --benches south,north`;

type Ask = (question: string, suggestion: string) => Promise<string>;

const list = (text: string): string[] =>
  text
    .split(',')
    .map((word) => word.trim())
    .filter((word) => word !== '');
const number = (text: string | undefined): number | undefined =>
  text === undefined ? undefined : Number(text);

/** Asks for what no flag gave; without a terminal the suggestion stands. */
async function answers(options: InitOptions): Promise<FirstFarm> {
  const suggestedZone = Intl.DateTimeFormat().resolvedOptions().timeZone;
  const terminal = process.stdin.isTTY
    ? createInterface({ input: process.stdin, output: process.stdout })
    : undefined;
  const ask: Ask = async (question, suggestion) => {
    if (terminal === undefined) return suggestion;
    const answer = (await terminal.question(`${question} [${suggestion}] `)).trim();
    return answer === '' ? suggestion : answer;
  };
  try {
    return {
      farm: options.farm ?? (await ask('Name of the farm, letters, digits and -', 'my-farm')),
      timeZone: options.timeZone ?? (await ask('Its time zone', suggestedZone)),
      rounds: list(options.rounds ?? (await ask('When do you walk the benches', '07:00,18:00'))),
      benches: list(options.benches ?? (await ask('Benches, one for each climate', 'south'))),
      latitude: number(options.latitude),
      longitude: number(options.longitude),
    };
  } finally {
    terminal?.close();
  }
}

async function init(options: InitOptions): Promise<void> {
  if (existsSync(options.out) && options.force !== true) {
    console.error(
      `${options.out} is there already; give another name with --out, or --force to write over it.`,
    );
    process.exitCode = EXIT.usedWrongly;
    return;
  }
  const text = firstConfigText(await answers(options));
  parseConfig(text, options.out);
  writeWhole(options.out, text);
  console.log(`${options.out} is written. Open it, name your probes and trays, then: drybell check`);
}

/** `drybell init`: a commented configuration to begin with. */
export function register(program: Command): void {
  program
    .command('init')
    .description('Write a commented configuration to begin with; asks for what no flag gives.')
    .option('--farm <name>', 'name of the farm, 1 to 40 letters, digits, - or _')
    .option('--time-zone <zone>', 'IANA name such as Europe/Berlin')
    .option('--rounds <times>', 'when the benches are walked, such as 07:00,18:00')
    .option('--benches <names>', 'benches, one for each climate, such as south,north')
    .option('--latitude <degrees>', 'with --longitude: the season’s daylight')
    .option('--longitude <degrees>')
    .option('--out <file>', 'where to write it', 'drybell.jsonc')
    .option('--force', 'write over a file that is there')
    .addHelpText('after', EXAMPLES)
    .action(init);
}
