import { spawnSync } from 'node:child_process';
import {
  cpSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { Worker } from 'node:worker_threads';
import { build } from 'esbuild';
import type { BenchAnswer, BenchOrder } from '../mutants/bench-living.js';
import { findMutants, LIVING_ENV, type Mutant, switchable } from '../mutants/find-mutants.js';
import { isNoticed, type ShortScores, said } from '../mutants/short-scores.js';
import { type Measurement, optionNumber, optionValue } from './measurement.js';

const help = `Which constants and comparisons nobody watches: each is changed in a copy of the project, one at a time; a short bench
of two small farms is run, and where that moves nothing the tests, until one of them notices. Prints what nobody noticed.

  --files PATH,...  source files or folders (default src/watering,src/drying)
  --tests PATH,...  test files or folders that should notice, the quickest first (default tests/watering,tests/drying; none: no tests)
  --only KIND       number or comparison (default both)
  --every N         every Nth mutant only (default 1: all)
  --minutes N       stop after so long and say how far it came (default: no end)`;

const PROJECT = join(dirname(fileURLToPath(import.meta.url)), '..', '..', '..');
const COPIED = ['src', 'shared', 'tests', 'package.json', 'tsconfig.json'];
/** A worker keeps every module that it has loaded: after so many mutants a new one begins. */
const BATCH = 40;
/** A mutant that takes this many times as long as none does not end. */
const ENDLESS_FACTOR = 12;
const MS_PER_MIN = 60_000;
/** The run without a mutant ends. */
const FIRST_RUN_MS = 10 * MS_PER_MIN;

interface FoundMutant extends Mutant {
  readonly file: string;
}

const listed = (options: readonly string[], name: string, usual: string): readonly string[] =>
  (optionValue(options, name) ?? usual).split(',').filter((one) => one !== 'none');

function sourcesIn(path: string): readonly string[] {
  if (!statSync(path).isDirectory()) return [path];
  return readdirSync(path, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .sort()
    .map((name) => join(path, name));
}

/** Puts every mutant to sleep in the copy; their numbers are their places. */
function putToSleep(copy: string, files: readonly string[]): readonly FoundMutant[] {
  const found: FoundMutant[] = [];
  for (const file of files.flatMap((path) => sourcesIn(join(copy, path)))) {
    const source = readFileSync(file, 'utf8');
    const own = findMutants(file, source);
    writeFileSync(file, switchable(source, own, found.length));
    found.push(...own.map((mutant) => ({ ...mutant, file: relative(copy, file) })));
  }
  return found;
}

/** True when a test fails with this mutant alive. */
function failsATest(project: string, tests: readonly string[], id: number): boolean {
  const vitest = join(project, 'node_modules', 'vitest', 'vitest.mjs');
  const options = [
    'run',
    '--config',
    'tests/vitest.config.ts',
    '--bail',
    '1',
    '--maxWorkers',
    '1',
    '--no-isolate',
  ];
  return tests.some(
    (test) =>
      spawnSync(process.execPath, [vitest, ...options, test], {
        cwd: project,
        stdio: 'ignore',
        env: { ...process.env, [LIVING_ENV]: String(id) },
      }).status !== 0,
  );
}

/** Scores with each of these mutants alive, as they come; none for one that throws or does not end. */
async function benchEach(
  bundle: string,
  ids: readonly number[],
  mostMs: number,
  hear: (answer: BenchAnswer) => void,
): Promise<void> {
  let left = ids;
  while (left.length > 0) {
    const order: BenchOrder = { bundle, ids: left.slice(0, BATCH) };
    const worker = new Worker(new URL('../mutants/bench-living.js', import.meta.url), { workerData: order });
    let heard = 0;
    await new Promise<void>((resolve, reject) => {
      const endless = (): void => {
        void worker.terminate();
        const [id] = left.slice(heard);
        if (id !== undefined) hear({ id, scores: undefined });
        heard++;
      };
      let timer = setTimeout(endless, mostMs);
      worker.on('message', (answer: BenchAnswer) => {
        clearTimeout(timer);
        timer = setTimeout(endless, mostMs);
        heard++;
        hear(answer);
      });
      worker.on('error', reject);
      worker.on('exit', () => {
        clearTimeout(timer);
        resolve();
      });
    });
    left = left.slice(heard);
  }
}

async function bundled(copy: string): Promise<string> {
  const outfile = join(copy, 'short-bench.mjs');
  const entry = join(copy, 'tests', 'mutants', 'short-bench.ts');
  await build({
    entryPoints: [entry],
    outfile,
    bundle: true,
    format: 'esm',
    platform: 'node',
    packages: 'external',
  });
  return pathToFileURL(outfile).href;
}

async function judge(copy: string, options: readonly string[]): Promise<number | undefined> {
  const tests = listed(options, '--tests', 'tests/watering,tests/drying');
  const only = optionValue(options, '--only');
  const every = optionNumber(options, '--every', 1);
  const endMs = Date.now() + optionNumber(options, '--minutes', Number.POSITIVE_INFINITY) * MS_PER_MIN;
  const found = putToSleep(copy, listed(options, '--files', 'src/watering,src/drying'));
  if (failsATest(copy, tests, -1)) {
    console.error(`${tests.join(', ')} fail without any change: mend them first.`);
    return 1;
  }
  const bundle = await bundled(copy);
  let asleep: readonly ShortScores[] = [];
  const beganMs = Date.now();
  await benchEach(bundle, [-1], FIRST_RUN_MS, ({ scores }) => {
    asleep = scores ?? [];
  });
  const mostMs = (Date.now() - beganMs) * ENDLESS_FACTOR;
  const ids = found.flatMap(({ kind }, id) => (only === undefined || kind === only ? [id] : []));
  const wanted = ids.filter((_, place) => place % every === 0);
  const unmoved = new Map<number, readonly ShortScores[]>();
  let judged = 0;
  for (; judged < wanted.length && Date.now() < endMs; judged += BATCH)
    await benchEach(bundle, wanted.slice(judged, judged + BATCH), mostMs, ({ id, scores }) => {
      if (scores !== undefined && !isNoticed(asleep, scores)) unmoved.set(id, scores);
    });
  let survived = 0;
  for (const [id, scores] of unmoved) {
    const mutant = found[id];
    if (mutant === undefined || failsATest(copy, tests, id)) continue;
    survived++;
    const { file, line, was, becomes } = mutant;
    console.log(`${file}:${line}  ${was} -> ${becomes}  ${said(asleep, scores)}`);
  }
  const untried = Math.max(0, wanted.length - judged);
  console.log(
    `${survived} of ${wanted.length - untried} noticed by nobody (${unmoved.size} not by the bench)${untried === 0 ? '' : `, ${untried} not tried`}`,
  );
  return undefined;
}

export const measurement: Measurement = {
  help,
  run: async (options) => {
    const copy = mkdtempSync(join(tmpdir(), 'mutants-'));
    try {
      for (const name of COPIED) cpSync(join(PROJECT, name), join(copy, name), { recursive: true });
      symlinkSync(join(PROJECT, 'node_modules'), join(copy, 'node_modules'));
      return await judge(copy, options);
    } finally {
      rmSync(copy, { recursive: true, force: true });
    }
  },
};
