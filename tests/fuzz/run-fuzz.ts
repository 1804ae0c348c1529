import { seededRandom } from '../store/helpers/seeded-random.js';
import { mangled } from './mangle.js';
import type { Target } from './targets.js';

/** Inputs between two looks whether it still works. */
const LOOK_EVERY = 200;
const MOST_KEPT = 3;

export interface FuzzReport {
  readonly name: string;
  readonly cases: number;
  readonly refused: number;
  /** Inputs that were not refused in good order, in base64, with what happened; the first few. */
  readonly broke: readonly { readonly input: string; readonly what: string }[];
}

/** So many bad inputs for one door, the same for the same seed. */
export async function fuzz(target: Target, cases: number, seed: number): Promise<FuzzReport> {
  const random = seededRandom(seed);
  const broke: { input: string; what: string }[] = [];
  let refused = 0;
  for (let n = 0; n < cases && broke.length < MOST_KEPT; n++) {
    const bytes = mangled(target.good, random);
    try {
      if (await target.take(bytes)) refused += 1;
      if (n % LOOK_EVERY === LOOK_EVERY - 1) await target.works?.();
    } catch (cause) {
      broke.push({
        input: bytes.toString('base64'),
        what: cause instanceof Error ? String(cause.stack) : String(cause),
      });
    }
  }
  await target.works?.();
  return { name: target.name, cases, refused, broke };
}
