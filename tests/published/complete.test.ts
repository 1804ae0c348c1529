import { existsSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { TOLERANCES } from './tolerances.js';

it.each(Object.keys(TOLERANCES))('the group "%s" of the tolerance table has its test file', (group) => {
  const file = new URL(`./${group}.test.ts`, import.meta.url);
  expect(existsSync(file)).toBe(true);
  expect(readFileSync(file, 'utf8')).toContain(`comparisonsOf('${group}')`);
});
