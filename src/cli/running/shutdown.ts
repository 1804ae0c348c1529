/** One thing to close, named for the message when it does not. */
export interface ClosingStep {
  readonly name: string;
  readonly close: () => Promise<void>;
}

/** What became of one step. */
export type Closed =
  | { readonly name: string; readonly outcome: 'closed' }
  | { readonly name: string; readonly outcome: 'failed'; readonly cause: unknown }
  | { readonly name: string; readonly outcome: 'late' };

/**
 * Closes one thing after the other, in the order given. Each has until the common deadline; one that fails or is late
 * does not keep the next from being closed.
 */
export async function closeInOrder(
  steps: readonly ClosingStep[],
  deadlineMs: number,
): Promise<readonly Closed[]> {
  const outcomes: Closed[] = [];
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<'late'>((resolve) => {
    timer = setTimeout(() => resolve('late'), deadlineMs);
  });
  for (const { name, close } of steps) {
    const closing = close().then(
      (): Closed => ({ name, outcome: 'closed' }),
      (cause: unknown): Closed => ({ name, outcome: 'failed', cause }),
    );
    const outcome = await Promise.race([closing, late]);
    outcomes.push(outcome === 'late' ? { name, outcome: 'late' } : outcome);
  }
  clearTimeout(timer);
  return outcomes;
}
