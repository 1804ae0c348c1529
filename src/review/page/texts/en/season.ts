/** Words of a season's summary. */
export const enSeason = {
  open: 'A season in sum',
  title: 'A season in sum',
  none: 'No dry-down is kept yet: a season begins with the first.',
  kindsTitle: 'What to sum up',
  kinds: { season: 'Seasons', week: 'Weeks', cycle: 'Crops' },
  which: 'Which one',
  before: 'The one before',
  after: 'The one after',
  cycleOf: (crop: string, from: string, to: string | undefined) => `${crop}, ${from} – ${to ?? 'now'}`,
  beside: 'Beside it',
  print: 'Print',
  farmTitle: 'The farm',
  columns: {
    season: 'Time',
    trays: 'Trays',
    ended: 'Left the benches',
    rounds: 'Rounds with water',
    waterings: 'Waterings',
    water: 'Water',
    calls: 'Calls',
    tooDry: 'Times too dry',
    tooWet: 'Times too wet',
    cameTrue: 'Forecasts within their range',
  },
  trueOf: (share: string, decided: string) => `${share} of ${decided}`,
  lost: 'The house hears of trays that went too dry, not of seedlings lost: what was lost is what the grower counts.',
  unknown: (count: number) =>
    count === 1
      ? 'Of one watering no amount is known; it is not in the sums.'
      : `Of ${count} waterings no amount is known; they are not in the sums.`,
  rowsTitle: 'Sizes and crops',
  rowsLead:
    'Middle: by when half of the dry-downs were at the refill point. Most are watered before; they count as “longer than”. Air: the mean over the hours of drying.',
  rowColumns: {
    what: 'Block, crop, time',
    trays: 'Trays',
    dryDowns: 'Dry-downs',
    middle: 'Middle, h',
    temperature: 'Air',
    vpd: 'Dryness of the air, kPa',
    sun: 'Sun, W/m²',
    waterings: 'Waterings',
    water: 'Water',
    tooDry: 'Too dry',
    tooWet: 'Too wet',
  },
  noCrop: 'no crop told',
  picturesTitle: 'How each size dried',
  pictureLabel: (size: string, seasons: string) =>
    `Water in ${size} blocks over the hours after a watering, the middle dry-down of ${seasons}. The table below holds the numbers.`,
  pictureLead: (size: string) => `${size} blocks`,
  steps:
    'Each hour the middle of those still drying; one that was watered stays in the count as “at most so wet”. Where many are watered at one round, the line falls in a step: the rest were the drier ones.',
  tooFew: 'Too few dry-downs to draw: three are needed.',
  behind: (season: string) => `${season}: dry-downs behind it`,
  waterOf: (season: string) => `${season}: water, %`,
};
