import { execFileSync, spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { join } from 'node:path';

const PAGE = 'tests/benchmark/measurements.md';
const MS_PER_S = 1000;

/** What is quick enough to be measured together, with its options; a minute or two each. */
const QUICK: Readonly<Record<string, readonly string[]>> = {
  'call-latency': ['--days', '1'],
  'forecast-cost': [],
  'replay-speed': ['--days', '2'],
  store: ['--days', '30', '--kills', '0', '--without-influx'],
  page: ['--days', '30'],
  'page-at-hand': ['--repeats', '3'],
};

const command = (name: string, options: readonly string[]): string =>
  ['npm run bench --', name, ...options].join(' ');

function git(...words: readonly string[]): string {
  return execFileSync('git', words, { encoding: 'utf8' }).trim();
}

/** One measurement in a process of its own: the command, how long it took, and what it printed to the letter. */
function measured(main: string, name: string, options: readonly string[]): string {
  console.log(command(name, options));
  const startedMs = performance.now();
  const { stdout, stderr, status } = spawnSync(process.execPath, [main, name, ...options], {
    encoding: 'utf8',
    env: { ...process.env, NO_COLOR: '1', FORCE_COLOR: undefined },
  });
  const tookS = Math.round((performance.now() - startedMs) / MS_PER_S);
  const failed =
    status === 0 ? '' : `\nIt ended with status ${status}: ${stderr.trim().split('\n').at(-1)}\n`;
  return `## ${name}\n\n\`${command(name, options)}\`, ${tookS} s.\n${failed}\n\`\`\`\n${stdout.trim()}\n\`\`\`\n`;
}

/**
 * Writes the page of measurements: every quick one run now, one after the other, and its own table as it printed it.
 * @param main the program of the measurements
 * @param names all there are; what is not quick is named with the command for it
 */
export function writeMeasurements(main: string, names: readonly string[]): void {
  const dirty =
    git('status', '--porcelain', '--untracked-files=no') === '' ? '' : ', with changes not committed';
  const [processor] = cpus();
  const begun = loadavg()[0] ?? 0;
  const tables = Object.entries(QUICK).map(([name, options]) => measured(main, name, options));
  const left = names.filter((name) => !(name in QUICK));
  const page = [
    '# Measurements',
    '',
    'Written by `npm run bench -- --write`; nothing here is typed by hand. What each measures and takes: `npm run bench -- NAME --help`.',
    '',
    `${new Date().toISOString().slice(0, 10)}, commit ${git('rev-parse', '--short', 'HEAD')}${dirty}. Node ${process.version}, ${process.platform} ${process.arch}, ${cpus().length} cores (${processor?.model ?? 'unknown'}); ${begun.toFixed(1)} processes wanted one of them when it began.`,
    '',
    ...tables,
    '## Not on this page',
    '',
    'They take long, need recordings, or look for faults and not for figures:',
    '',
    ...left.map((name) => `- \`${command(name, [])}\``),
    '',
  ].join('\n');
  writeFileSync(join(process.cwd(), PAGE), page);
  console.log(`written: ${PAGE}`);
}
