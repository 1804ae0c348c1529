import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: dirname(dirname(fileURLToPath(import.meta.url))),
  test: {
    include: ['tests/**/*.test.ts'],
    setupFiles: ['tests/helpers/without-colours.ts'],
    // Far beyond what any test needs on an idle machine: a busy one is slow, not wrong.
    testTimeout: 120_000,
    hookTimeout: 120_000,
    expect: { poll: { timeout: 60_000 } },
    pool: 'forks',
    maxWorkers: 2,
  },
});
