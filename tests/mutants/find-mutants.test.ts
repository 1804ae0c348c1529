import { transformSync } from 'esbuild';
import { describe, expect, it } from 'vitest';
import { findMutants, switchable } from './find-mutants.js';

const SOURCE = `const LIMIT_H = 3_600;
const table: Record<1 | 5, string> = { 5: 'five', 1: 'one' };
const isLate = (hours: number, most?: number) => most !== undefined && hours > 1 && hours * 0.5 <= 4;
isLate;
`;

/** What the source comes to when this mutant lives. */
function lateAfter(hours: number, living: number): boolean {
  const sleeping = switchable(SOURCE, findMutants('a.ts', SOURCE), 10);
  const { code } = transformSync(sleeping, { loader: 'ts' });
  const isLate = new Function('process', `${code}; return isLate;`)({
    env: { DRYBELL_MUTANT: String(living) },
  });
  return isLate(hours, 1);
}

describe('findMutants()', () => {
  it('makes numbers half as large again and turns comparisons about', () => {
    const found = findMutants('a.ts', SOURCE);
    expect(found.map(({ line, was, becomes }) => [line, was, becomes])).toEqual([
      [1, '3_600', '5400'],
      [3, '>', '<='],
      [3, '<=', '>'],
      [3, '0.5', '0.75'],
      [3, '4', '6'],
    ]);
  });
});

describe('switchable()', () => {
  it('is the source as it was while none of its mutants lives, on the same lines', () => {
    expect([7, 9].map((hours) => lateAfter(hours, -1))).toEqual([true, false]);
    expect(switchable(SOURCE, findMutants('a.ts', SOURCE), 0).split('\n')).toHaveLength(
      SOURCE.split('\n').length,
    );
  });

  it('does what the mutant that lives says, one within another too', () => {
    expect([11, 12, 13, 14].map((living) => lateAfter(7, living))).toEqual([false, false, false, true]);
    expect(lateAfter(9, 14)).toBe(true);
    expect(lateAfter(9, 12)).toBe(true);
  });
});
