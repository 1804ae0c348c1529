/** Why a probe is not trusted: the one list for the judge, the page and the sentences. */
export const PROBE_TROUBLES = ['silent', 'out-of-range', 'flat-line', 'noisy'] as const;
export type ProbeTrouble = (typeof PROBE_TROUBLES)[number];
