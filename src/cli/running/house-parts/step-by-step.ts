import { setImmediate } from 'node:timers/promises';

/** Runs what takes long in pieces, and lets everything else that waits go between two of them. */
export async function stepByStep<Result>(
  steps: Generator<void, Result> | undefined,
): Promise<Result | undefined> {
  if (steps === undefined) return undefined;
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
    await setImmediate();
  }
}
