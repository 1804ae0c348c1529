/** One thing that `npm run bench -- NAME` measures. */
export interface Measurement {
  /** What it measures and which options it takes. */
  readonly help: string;
  /** Prints its result; a number is the exit status. */
  run(options: readonly string[]): Promise<number | undefined>;
}

/** Value after `--name`, or undefined. */
export function optionValue(options: readonly string[], name: string): string | undefined {
  const index = options.indexOf(name);
  return index < 0 ? undefined : options[index + 1];
}

/** Number after `--name`. Throws with a clear message when it is none. */
export function optionNumber(options: readonly string[], name: string, fallback: number): number {
  const text = optionValue(options, name);
  if (text === undefined) return fallback;
  const value = Number(text);
  if (!Number.isFinite(value)) throw new RangeError(`${name} takes a number, got "${text}"`);
  return value;
}

/** Median time of `run` in milliseconds over `repeats` runs, after one to warm up. */
export function medianMs(repeats: number, run: () => void): number {
  run();
  const times = Array.from({ length: repeats }, () => {
    const startedMs = performance.now();
    run();
    return performance.now() - startedMs;
  }).sort((a, b) => a - b);
  return times[Math.floor(times.length / 2)] ?? Number.NaN;
}

/** Rows as columns of even width, first column left, the others right. */
export function table(rows: readonly (readonly string[])[]): string {
  const widths = rows.reduce<number[]>(
    (all, row) => row.map((cell, column) => Math.max(cell.length, all[column] ?? 0)),
    [],
  );
  return rows
    .map((row) =>
      row
        .map((cell, column) =>
          column === 0 ? cell.padEnd(widths[column] ?? 0) : cell.padStart(widths[column] ?? 0),
        )
        .join('  '),
    )
    .join('\n');
}
