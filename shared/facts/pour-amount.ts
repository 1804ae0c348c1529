import type { PourPlan } from './round-notice.js';

/** What is to be poured at this round, mL: the dose, but for what the pours leave out. */
export function toPourMl(due: {
  readonly doseMl?: number | undefined;
  readonly pourPlan?: PourPlan | undefined;
}): number | undefined {
  return due.doseMl === undefined ? undefined : due.doseMl - (due.pourPlan?.shortMl ?? 0);
}
