import type { Clock } from '../../monitor/ports/ports.js';

/** What a wait came to. */
export type Outcome<T> = { readonly kind: 'done'; readonly value: T } | { readonly kind: 'late' };

/**
 * Waits for `work`, at most `limitMs` of `clock`. The timer never outlives the wait. A rejection of `work` passes through;
 * one that comes after the limit has been handed to nobody and is swallowed here, because the caller has moved on.
 */
export async function withDeadline<T>(work: Promise<T>, limitMs: number, clock: Clock): Promise<Outcome<T>> {
  const timer = new AbortController();
  const limit = clock.sleep(limitMs, timer.signal).then(
    (): Outcome<T> => ({ kind: 'late' }),
    (): Outcome<T> => ({ kind: 'late' }),
  );
  try {
    return await Promise.race([work.then((value): Outcome<T> => ({ kind: 'done', value })), limit]);
  } finally {
    timer.abort();
  }
}
