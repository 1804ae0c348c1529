import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import { configDefaults, defineConfig } from 'vitest/config';

/** What counts every timer and object of its process: nobody else may live there. */
const ALONE = ['tests/house/season.test.ts'];

export default defineConfig({
  root: dirname(dirname(fileURLToPath(import.meta.url))),
  test: {
    setupFiles: ['tests/helpers/own-surroundings.ts'],
    // Far beyond what any test needs on an idle machine: a busy one is slow, not wrong.
    testTimeout: 120_000,
    hookTimeout: 120_000,
    expect: { poll: { timeout: 60_000 } },
    // A browser or broker on a machine that others use too: what fails once is tried once more, and the report names it.
    retry: 1,
    pool: 'forks',
    // As many as the smallest machine has cores: with a third the suite was two minutes shorter, and what waits became late.
    maxWorkers: 2,
    projects: [
      {
        extends: true,
        // One process reads the program once for all of its files, not once for each: half of the suite's time.
        test: {
          name: 'together',
          isolate: false,
          include: ['tests/**/*.test.ts'],
          exclude: [...configDefaults.exclude, ...ALONE],
        },
      },
      { extends: true, test: { name: 'alone', include: ALONE } },
    ],
  },
});
