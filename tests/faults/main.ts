import '../helpers/own-surroundings.js';
import { HARMS } from './harms/all.js';
import type { HarmReport } from './run-harm.js';
import { faultsOf, isSlow, runHarm } from './run-harm.js';

const HELP = `npm run faults -- [--rounds N] [--seed N] [--only WORDS]
Does harm to the built program on purpose, at random moments, and counts what was lost.
--rounds  of each harm, 10 when absent
--seed    of the moments; today's when absent, and printed
--only    harms whose name holds these words`;

const DEFAULT_ROUNDS = 10;
const SEEDS = 100_000;
const HEAD = [
  'harm',
  'rounds',
  'readings',
  'false',
  'notes',
  'doubled',
  'calls',
  'doubled',
  'slowest call',
  'recovery',
  'ended by itself',
];

function option(name: string): string | undefined {
  const at = process.argv.indexOf(`--${name}`);
  return at < 0 ? undefined : process.argv[at + 1];
}

const seconds = (value: number): string => `${value.toFixed(1)} s`;

function row({ name, rounds, counts, recoveryS, notRecovered }: HarmReport): readonly string[] {
  const sorted = [...recoveryS].sort((a, b) => a - b);
  const middle = sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
  const never = notRecovered > 0 ? `, ${notRecovered} never` : '';
  return [
    name,
    `${rounds}`,
    `${counts.readingsFound}/${counts.readingsSeen}`,
    `${counts.readingsFalse}`,
    `${counts.notesFound}/${counts.notesAnswered}`,
    `${counts.notesDoubled}`,
    `${counts.callsMade}/${counts.callsDue}`,
    `${counts.callsDoubled}`,
    seconds(counts.slowestCallS),
    `${seconds(middle)}, at most ${seconds(sorted.at(-1) ?? Number.NaN)}${never}`,
    `${counts.crashes}`,
  ];
}

async function main(): Promise<number> {
  if (process.argv.includes('--help')) {
    console.log(HELP);
    return 0;
  }
  const rounds = Number(option('rounds') ?? DEFAULT_ROUNDS);
  const seed = Number(option('seed') ?? Date.now() % SEEDS);
  const only = option('only') ?? '';
  console.log(
    `seed ${seed}; found of what was seen in the store, of notes and calls that were answered as done`,
  );
  console.log(`| ${HEAD.join(' | ')} |\n|${HEAD.map(() => '---').join('|')}|`);
  let failed = 0;
  for (const harm of HARMS.filter(({ name }) => name.includes(only))) {
    const report = await runHarm(harm, rounds, seed);
    if (report === undefined) {
      console.log(`| ${harm.name} | not here: needs ${harm.needs.join(', ')} |`);
      continue;
    }
    console.log(`| ${row(report).join(' | ')} |`);
    failed += faultsOf(harm, report).length + (isSlow(report) ? 1 : 0);
  }
  return failed === 0 ? 0 : 1;
}

process.exitCode = await main();
