import { afterAll, expect } from 'vitest';
import { TOLERANCES, type Tolerance } from './tolerances.js';

/** Errors under this are the machine's rounding, which differs between machines: no need to sit close to them. */
const MACHINE_ERROR = 2e-8;
/** A tolerance more than this many times the achieved error has gone slack. */
const SLACK = 6;

export type Group = keyof typeof TOLERANCES;

/**
 * Compares with published values under the one table of tolerances. When the file ends, every row of its group must
 * have been compared exactly as often as the table says, and no tolerance may lie far above the achieved error: a
 * comparison that goes missing fails. DRYBELL_SHOW_ERRORS=1 prints the achieved errors.
 */
export function comparisonsOf(group: Group): (row: string, actual: number, expected: number) => void {
  const table: Readonly<Record<string, Tolerance>> = TOLERANCES[group];
  const made = new Map<string, { count: number; worst: number }>();
  afterAll(() => {
    const problems: string[] = [];
    for (const [row, { within, comparisons }] of Object.entries(table)) {
      const { count, worst } = made.get(row) ?? { count: 0, worst: 0 };
      if (process.env['DRYBELL_SHOW_ERRORS'] !== undefined)
        console.log(`${group}: ${row}: ${count} made, worst ${worst}, tolerance ${within}`);
      if (count !== comparisons)
        problems.push(`"${row}": ${count} comparisons made, expected ${comparisons}`);
      if (within > MACHINE_ERROR && worst * SLACK < within)
        problems.push(`"${row}": tolerance ${within} is slack, the worst error is ${worst}`);
    }
    expect(problems).toEqual([]);
  });
  return (row, actual, expected) => {
    const tolerance = table[row];
    if (tolerance === undefined) throw new RangeError(`no tolerance for "${row}" in group "${group}"`);
    const scale = tolerance.relative === true ? Math.abs(expected) : 1;
    const error = Math.abs(actual - expected) / scale;
    const soFar = made.get(row) ?? { count: 0, worst: 0 };
    made.set(row, { count: soFar.count + 1, worst: Math.max(soFar.worst, error) });
    expect(error, `${row}: ${actual}, published ${expected} (${tolerance.source})`).toBeLessThanOrEqual(
      tolerance.within,
    );
  };
}
