import { parentPort, workerData } from 'node:worker_threads';
import { LIVING_GLOBAL } from './find-mutants.js';
import type { ShortScores } from './short-scores.js';

/** What a worker is given: the sleeping project's bench in one file, and which mutants to wake one after the other. */
export interface BenchOrder {
  readonly bundle: string;
  readonly ids: readonly number[];
}

/** What it answers for each; no scores when the mutant threw. */
export interface BenchAnswer {
  readonly id: number;
  readonly scores: readonly ShortScores[] | undefined;
}

const { bundle, ids } = workerData as BenchOrder;
const woken = async (id: number): Promise<typeof import('./short-bench.js')> => {
  Object.assign(globalThis, { [LIVING_GLOBAL]: id });
  // Constants are read when a module is loaded: each mutant loads its own.
  return (await import(`${bundle}?living=${id}`)) as typeof import('./short-bench.js');
};

const scenarios = (await woken(-1)).recordShort();
for (const id of ids) {
  const { scoreShort } = await woken(id);
  let answer: BenchAnswer = { id, scores: undefined };
  try {
    answer = { id, scores: scoreShort(scenarios) };
  } catch {
    // A mutant that throws is noticed.
  }
  parentPort?.postMessage(answer);
}
