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
import { fileURLToPath } from 'node:url';
import { findMutants, mutated } from '../mutants/find-mutants.js';
import { type Measurement, optionNumber, optionValue } from './measurement.js';

const help = `Which constants and comparisons nobody watches: each is changed in a copy of the project, one at a time, and the tests
are run until one of them notices. Prints what no test noticed.

  --files PATH,...  source files or folders (default src/watering/rounds)
  --tests PATH,...  test files or folders that should notice, the quickest first (default tests/watering)
  --every N         every Nth mutant only (default 1: all)`;

const PROJECT = join(dirname(fileURLToPath(import.meta.url)), '..', '..', '..');
const COPIED = ['src', 'shared', 'tests', 'package.json', 'tsconfig.json'];

const listed = (options: readonly string[], name: string, usual: string): readonly string[] =>
  (optionValue(options, name) ?? usual).split(',');

function sourcesIn(path: string): readonly string[] {
  if (!statSync(path).isDirectory()) return [path];
  return readdirSync(path, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .sort()
    .map((name) => join(path, name));
}

/** True when a test fails. */
function isNoticed(project: string, tests: readonly string[]): boolean {
  const vitest = join(project, 'node_modules', 'vitest', 'vitest.mjs');
  const options = ['run', '--config', 'tests/vitest.config.ts', '--bail', '1', '--maxWorkers', '1'];
  return (
    spawnSync(process.execPath, [vitest, ...options, ...tests], { cwd: project, stdio: 'ignore' }).status !==
    0
  );
}

export const measurement: Measurement = {
  help,
  run: async (options) => {
    const tests = listed(options, '--tests', 'tests/watering');
    const every = optionNumber(options, '--every', 1);
    const copy = mkdtempSync(join(tmpdir(), 'mutants-'));
    try {
      for (const name of COPIED) cpSync(join(PROJECT, name), join(copy, name), { recursive: true });
      symlinkSync(join(PROJECT, 'node_modules'), join(copy, 'node_modules'));
      if (isNoticed(copy, tests)) {
        console.error(`${tests.join(', ')} fail without any change: mend them first.`);
        return 1;
      }
      let [count, survived] = [0, 0];
      for (const file of listed(options, '--files', 'src/watering/rounds').flatMap((path) =>
        sourcesIn(join(copy, path)),
      )) {
        const source = readFileSync(file, 'utf8');
        for (const mutant of findMutants(file, source)) {
          if (count++ % every !== 0) continue;
          writeFileSync(file, mutated(source, mutant));
          if (isNoticed(copy, tests)) continue;
          survived++;
          console.log(`${relative(copy, file)}:${mutant.line}  ${mutant.was} -> ${mutant.becomes}`);
        }
        writeFileSync(file, source);
      }
      console.log(`${survived} of ${Math.ceil(count / every)} noticed by no test`);
      return undefined;
    } finally {
      rmSync(copy, { recursive: true, force: true });
    }
  },
};
