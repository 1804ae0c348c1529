/** What can be wrong with a probe for a while. */
export type ProbeFaultKind = 'stuck' | 'spikes' | 'drop-outs' | 'unplugged';

export interface ProbeFault {
  readonly kind: ProbeFaultKind;
  readonly fromMs: number;
  readonly toMs: number;
}

/** The fault that holds at this instant; the first one listed wins. */
export function faultAt(faults: readonly ProbeFault[], atMs: number): ProbeFaultKind | undefined {
  return faults.find((fault) => atMs >= fault.fromMs && atMs < fault.toMs)?.kind;
}
