/** Words a grower may use instead of numbers. Each number is a working value (judgement), not a measurement. */

/** Air speed over the blocks, m/s. Closed houses stay below 0.1 (Wang, Boulard & Haxaire 1999); fans give 0.2 to 0.5. */
export const AIR_WORDS: Readonly<Record<string, number>> = { still: 0.05, gentle: 0.1, airy: 0.2, fan: 0.4 };

/** Sun on the bench in a day, MJ/m². */
export const LIGHT_WORDS: Readonly<Record<string, number>> = {
  dark: 0,
  dull: 3,
  mixed: 6,
  bright: 9,
  blazing: 12,
};

/** Days since the seedlings came up; absent: nothing is up. */
export const STAGE_WORDS: Readonly<Record<string, number | undefined>> = {
  sown: undefined,
  cotyledons: 4,
  'true-leaves': 14,
  'ready-to-plant': 32,
};

export const COVER_WORDS = ['none', 'film', 'loose-dome', 'tight-dome'] as const;
