import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { join } from 'node:path';

const PAGE = 'tests/benchmark/measurements.md';
const MS_PER_S = 1000;

/** What is quick enough to be measured together, with its options; some minutes each. */
const QUICK: Readonly<Record<string, readonly string[]>> = {
  'call-latency': ['--days', '1'],
  'forecast-cost': [],
  'replay-speed': ['--days', '2'],
  store: ['--days', '30', '--kills', '0', '--without-influx'],
  page: ['--repeats', '3'],
  'page-at-hand': ['--repeats', '3'],
};

/** They look for faults and not for figures. */
const NO_FIGURES: ReadonlySet<string> = new Set(['fuzz', 'mutants', 'widths']);

const HEAD = `# Measurements

Written by \`npm run bench -- --write [NAME ...]\`; nothing here is typed by hand. Each part was measured when its own line says, and stays until it is
measured again. What each measures and takes: \`npm run bench -- NAME --help\`.
`;

const command = (name: string, options: readonly string[]): string =>
  ['npm run bench --', name, ...options].join(' ');

function git(...words: readonly string[]): string {
  return execFileSync('git', words, { encoding: 'utf8' }).trim();
}

/** When, of what and on what something is measured. */
function circumstances(): string {
  const isDirty =
    git('status', '--porcelain', '--untracked-files=no', '--', 'src', 'shared', 'tests/bench') !== '';
  const [processor] = cpus();
  const begun = loadavg()[0] ?? 0;
  return `${new Date().toISOString().slice(0, 10)}, commit ${git('rev-parse', '--short', 'HEAD')}${isDirty ? ', with changes not committed' : ''}, Node ${process.version}, ${process.platform} ${process.arch}, ${cpus().length} cores (${processor?.model ?? 'unknown'}), ${begun.toFixed(1)} processes wanted one of them when it began`;
}

/** One measurement in a process of its own: the command, how long it took, and what it printed to the letter. */
function measured(main: string, name: string, options: readonly string[]): string {
  console.log(command(name, options));
  const of = circumstances();
  const startedMs = performance.now();
  const { stdout, stderr, status } = spawnSync(process.execPath, [main, name, ...options], {
    encoding: 'utf8',
    env: { ...process.env, NO_COLOR: '1', FORCE_COLOR: undefined },
  });
  const tookS = Math.round((performance.now() - startedMs) / MS_PER_S);
  const failed =
    status === 0 ? '' : `\nIt ended with status ${status}: ${stderr.trim().split('\n').at(-1)}\n`;
  return `## ${name}\n\n\`${command(name, options)}\`, ${tookS} s; ${of}.\n${failed}\n\`\`\`\n${stdout.trim()}\n\`\`\`\n`;
}

/** The parts that stand on a page, by name; the last, what is not measured, is made anew each time. */
export function partsOf(page: string): Map<string, string> {
  const parts = page.split(/^(?=## )/m).filter((part) => part.startsWith('## '));
  return new Map(
    parts
      .map((part): [string, string] => [part.slice('## '.length, part.indexOf('\n')), `${part.trim()}\n`])
      .filter(([name]) => name !== NOT_YET),
  );
}

const NOT_YET = 'Not measured yet';

/** The whole page of these parts, in the order of `names`. */
export function pageOf(parts: ReadonlyMap<string, string>, names: readonly string[]): string {
  const left = names.filter((name) => !parts.has(name) && !NO_FIGURES.has(name));
  const missing = left.map((name) => `- \`${command('--write', [name])}\``);
  return [
    HEAD,
    ...names.flatMap((name) => parts.get(name) ?? []),
    ...(missing.length === 0 ? [] : [`## ${NOT_YET}\n\n${missing.join('\n')}\n`]),
  ].join('\n');
}

/**
 * Measures, one after the other, and puts each part into the page as soon as it is there; every other part stays.
 * @param main the program of the measurements
 * @param names all there are
 * @param chosen which ones, a quick one as it is always run; none: the quick ones
 */
export function writeMeasurements(main: string, names: readonly string[], chosen: readonly string[]): void {
  const path = join(process.cwd(), PAGE);
  for (const name of chosen.length > 0 ? chosen : Object.keys(QUICK)) {
    const part = measured(main, name, QUICK[name] ?? []);
    const parts = partsOf(existsSync(path) ? readFileSync(path, 'utf8') : '');
    writeFileSync(path, pageOf(parts.set(name, part), names));
  }
  console.log(`written: ${PAGE}`);
}
