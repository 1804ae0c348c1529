import { describe, expect, it } from 'vitest';
import { columns } from '../../src/cli/terminal/columns.js';

const rows = [
  ['celery-1', '280 minis', 'celery', 'watered at 07:10, 600 mL'],
  ['leek-2', '72 blocks', '', 'dry'],
];

describe('columns()', () => {
  it('stand beside each other where they fit, and without a terminal', () => {
    const wide = [
      'celery-1  280 minis  celery  watered at 07:10, 600 mL',
      'leek-2    72 blocks          dry',
    ];
    expect(columns(rows, 80)).toEqual(wide);
    expect(columns(rows, Number.POSITIVE_INFINITY)).toEqual(wide);
  });

  it('fold below their first cell where they do not', () => {
    expect(columns(rows, 40)).toEqual([
      'celery-1\n      280 minis  celery\n      watered at 07:10, 600 mL',
      'leek-2\n      72 blocks  dry',
    ]);
  });

  it.each([40, 52, 60])('of %i columns are never wider, set in as they are', (widthColumns) => {
    const lines = columns(rows, widthColumns).flatMap((row) => `  ${row}`.split('\n'));
    expect(Math.max(...lines.map(({ length }) => length))).toBeLessThanOrEqual(widthColumns);
  });
});
