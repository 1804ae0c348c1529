import type { Span } from '../../monitor/ports/ports.js';

/** Throws a RangeError that says what is wrong with the span, or with how much was asked of it. */
export function checkSpan(span: Span, most?: { readonly name: string; readonly value: number }): void {
  if (!Number.isFinite(span.fromMs) || !Number.isFinite(span.toMs))
    throw new RangeError(
      `the span's from and to must be epoch milliseconds, got ${span.fromMs} and ${span.toMs}`,
    );
  if (span.fromMs >= span.toMs)
    throw new RangeError(
      `the span's from (${describeMs(span.fromMs)}) must lie before its to (${describeMs(span.toMs)})`,
    );
  if (most !== undefined && !(Number.isInteger(most.value) && most.value >= 1))
    throw new RangeError(`${most.name} must be a whole number of at least 1, got ${most.value}`);
}

function describeMs(atMs: number): string {
  const date = new Date(atMs);
  return Number.isNaN(date.getTime()) ? `${atMs} ms` : date.toISOString();
}
