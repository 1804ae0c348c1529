/** How close one published quantity must be met. */
export interface Tolerance {
  /** Largest error that passes, in the quantity's unit; set just above the achieved error. */
  readonly within: number;
  /** The error is divided by the published value. */
  readonly relative?: true;
  /** How many comparisons the tests make; one missing fails. */
  readonly comparisons: number;
  readonly source: string;
}

/** The one table of tolerances of tests/published, by test file and quantity. */
export const TOLERANCES = {
  psychrometrics: {
    'e0(T), kPa': { within: 0.0005, comparisons: 53, source: 'FAO-56 annex 2, table 2.3' },
    'slope, kPa/K': { within: 0.0004, comparisons: 9, source: 'FAO-56 annex 2, table 2.4' },
    'P(z), kPa': { within: 0.045, comparisons: 9, source: 'FAO-56 annex 2, table 2.1; example 2' },
    'gamma(z), kPa/K': { within: 0.0005, comparisons: 6, source: 'FAO-56 annex 2, table 2.2; example 2' },
    'worked examples, kPa': { within: 0.0045, comparisons: 11, source: 'FAO-56 examples 2 to 6' },
    'hourly examples, kPa': { within: 0.00025, comparisons: 6, source: 'FAO-56 example 19' },
    'dew point, °C': { within: 0.00045, comparisons: 4, source: 'FAO-56 Eq 11 inverted (computed)' },
    'wet bulb, °C': { within: 0.0032, comparisons: 5, source: 'FAO-56 Eq 15 solved (computed)' },
    'saturation pressure, share': {
      within: 0.0012,
      relative: true,
      comparisons: 7,
      source: 'ASHRAE in psychrolib; IAPWS-IF97 region 4',
    },
    'psychrolib dew point, K': {
      within: 0.01,
      comparisons: 40,
      source: 'psychrolib, ASHRAE Fundamentals 2017',
    },
    'psychrolib wet bulb, K': {
      within: 0.075,
      comparisons: 40,
      source: 'psychrolib, ASHRAE Fundamentals 2017',
    },
  },
} as const satisfies Record<string, Record<string, Tolerance>>;
