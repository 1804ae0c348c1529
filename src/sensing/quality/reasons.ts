/** The quality tests that can speak of a reading, each a bit so that a verdict costs no allocation. */
export const REASON_BITS = {
  /** The probe did not answer. */
  'no-answer': 1,
  'not-a-number': 2,
  'gross-range': 4,
  'beyond-calibration': 8,
  /** So far beyond that it is hardly moisture: the probe in the air, a wire half off. */
  'far-beyond-calibration': 512,
  spike: 16,
  /** A sudden rise of moisture or weight that the next reading has yet to confirm as a watering. */
  'rise-unconfirmed': 32,
  'flat-line': 64,
  /** Relative humidity stuck at saturation: the element is wet. */
  saturated: 128,
  /** Older than a reading already judged. */
  'out-of-order': 256,
} as const;
export type ReasonCode = keyof typeof REASON_BITS;

const CODES = Object.keys(REASON_BITS) as readonly ReasonCode[];
const lists = new Map<number, readonly ReasonCode[]>();

/** The reasons of a set of bits, always the same frozen list for the same set. */
export function reasonsOf(bits: number): readonly ReasonCode[] {
  const known = lists.get(bits);
  if (known !== undefined) return known;
  const list = Object.freeze(CODES.filter((code) => (bits & REASON_BITS[code]) !== 0));
  lists.set(bits, list);
  return list;
}
