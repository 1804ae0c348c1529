import { z } from 'zod';

/**
 * Rows as values. One of which bytes were changed on the disk, so that it is no value any more, is left out: what can be read
 * is better than nothing. `store-check` counts such journal entries.
 */
export function readableRows<Row, Value>(
  rows: readonly Row[],
  toValue: (row: Row) => Value | undefined,
): readonly Value[] {
  return rows.flatMap((row) => {
    try {
      const value = toValue(row);
      return value === undefined ? [] : [value];
    } catch (cause) {
      if (cause instanceof SyntaxError || cause instanceof RangeError || cause instanceof z.ZodError)
        return [];
      throw cause;
    }
  });
}
