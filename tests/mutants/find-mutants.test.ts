import { describe, expect, it } from 'vitest';
import { findMutants, mutated } from './find-mutants.js';

const SOURCE = `const MOST_H = 4;
const SHARE = { least: 0.25, most: 1 } as const;
export const isLong = (h: number): boolean => h >= MOST_H && h !== undefined;
type Level = 3 | 4;
`;

describe('findMutants()', () => {
  it('makes constants half as large again and turns comparisons, and leaves types, 0, 1, 2 and absence alone', () => {
    const found = findMutants('a.ts', SOURCE);
    expect(found.map(({ line, was, becomes }) => [line, was, becomes])).toEqual([
      [1, '4', '6'],
      [2, '0.25', '0.375'],
      [3, '>=', '<'],
    ]);
    const [first] = found;
    expect(first && mutated(SOURCE, first).split('\n')[0]).toBe('const MOST_H = 6;');
  });
});
