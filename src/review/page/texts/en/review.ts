import { englishDoubts } from '../../../../../shared/facts/probe-verdict.js';
import { numberWords } from '../amounts/amounts.js';

/** Words of the reviewer's views. */
export const enReview = {
  all: 'all',
  fetching: 'Fetching…',
  lookAgain: 'Look again',
  noContact: 'No contact with the house: this view asks it. “Now” shows the farm as it last was.',
  asTable: 'The numbers as a table',
  save: { title: 'Keep', picture: 'Picture (SVG)', numbers: 'Numbers (CSV)' },
  unknown: '–',
  refusals: {
    'span-backwards': 'The first day must lie before the last.',
    'span-too-long': 'That is more than ten years; choose a shorter time.',
    'unknown-tray': 'There is no such tray now, nor in this time.',
    'word-needed': 'This page asks for the access word of the farm first; open it anew.',
  },

  span: {
    title: 'Time to look at',
    days: (days: number) => {
      if (days >= 365) return 'a year';
      if (days >= 28) return `${Math.round(days / 30)} months`;
      return days >= 14 ? `${Math.round(days / 7)} weeks` : `${days} days`;
    },
    own: 'Other dates',
    from: 'From',
    to: 'To',
  },

  curves: {
    title: 'How each size dries',
    lead: (count: number, sizes: number) =>
      `${count} dry-downs of ${sizes === 1 ? 'one block size' : `${sizes} block sizes`}, each begun at its watering. Line: the middle one. Band: eight of ten.`,
    none: 'No dry-down has ended in this time. One ends with the next watering.',
    tooFew: (count: number) => `${count} dry-downs: three are needed for a band`,
    plotLabel: (sizes: string) =>
      `Water in the blocks over the hours after a watering, by block size: ${sizes}. The table below holds the numbers.`,
    hoursAxis: 'hours after watering',
    refillLine: 'refill point',
    stillDrying: 'Still drying',
    afterH: (hours: number) => `${hours} h`,
    lineEnds:
      'A tray that was watered stays in the count as “at most so wet”. A line ends where the middle tray was watered, or where fewer than three are still drying; the dry edge of a band ends sooner.',
    waterAxis: 'water, % of the block',
    only: 'Look at some of them only',
    bench: 'Bench',
    crop: 'Crop',
    month: 'Month',
    air: 'Air',
    stage: 'Stage',
    tray: 'Tray',
    airs: {
      'very-humid': 'very humid, under 0.4 kPa',
      humid: 'humid, 0.4–0.8 kPa',
      dry: 'dry, 0.8–1.2 kPa',
      'very-dry': 'very dry, over 1.2 kPa',
    },
    stages: { germinating: 'germinating', growing: 'growing' },
    tableTitle: 'Sizes side by side',
    columns: {
      size: 'Block',
      dryDowns: 'Dry-downs',
      reached: 'to the refill point',
      soon: 'Soonest tenth, h',
      middle: 'Middle, h',
      late: 'Latest tenth, h',
      rounds: 'Rounds a day',
      water: 'Water a tray and day',
      tooDry: 'Too dry',
      tooWet: 'Too wet',
    },
    longer: (hours: string) => `over ${hours}`,
    between: (low: string, high: string) => `${low}–${high}`,
    censored:
      'Most dry-downs end with a watering before the refill point. They count as “longer than”; the hours in brackets are the 90 % interval. Rounds a day: how often to water so that nine of ten stay above the refill point.',
    bandColumns: (size: string) => [
      `${size}: lowest tenth`,
      `${size}: middle`,
      `${size}: highest tenth`,
      `${size}: curves`,
    ],
    allSizes: 'All sizes',
    oneTray: 'One tray',
    pickTray: 'Choose a tray',
  },

  cameTrue: {
    title: 'Did the forecasts come true?',
    lead: 'Of ten forecasts eight should come true within their range: the tray reaches its refill point between the early and the late hour.',
    how: 'Nearly every tray is watered before it is that far, which leaves its forecast open. An open one counts as “not until then”, so the shares are estimates; they rest on those that were decided. All forecasts of one dry-down share its luck.',
    columns: {
      band: 'Middle of the forecast',
      inside: 'Came true within the range',
      sooner: 'Sooner',
      later: 'Later',
      count: 'Forecasts',
      decided: 'Of them decided',
    },
    band: (from: number, below: number) => `${from} to ${below} h`,
    all: 'all',
    tooFew: 'too few',
    countOf: (forecasts: number, dryDowns: number) =>
      `${numberWords(forecasts)} in ${dryDowns === 1 ? '1 dry-down' : `${numberWords(dryDowns)} dry-downs`}`,
  },

  tray: {
    title: (tray: string) => `Drying curve of ${tray}`,
    plotLabel: (tray: string, waterings: number, calls: number) =>
      `Water in the blocks of ${tray} over time with ${waterings} waterings and ${calls} calls, and the forecast as a fan to the refill point. The table below holds the numbers.`,
    probe: 'probe',
    model: 'model',
    full: 'full',
    refill: 'refill',
    fan: 'Forecast made',
    fanWords: (when: string, soon: string, middle: string, late: string) =>
      `${when}: refill ${middle}, between ${soon} and ${late}`,
    fanThere: (when: string) => `${when}: at the refill point already`,
    beyond: 'later than five days',
    noFan: 'No forecast in this time.',
    keyProbe: 'Probe: mean and range',
    keyModel: 'What the model holds',
    keyFan: 'Forecast',
    keyWater: 'Watered',
    keyCall: 'Call',
    keyFlag: 'Does not count',
    noProbe: 'No probe of its own: the curve is what the model holds.',
    columns: {
      at: 'Time',
      probe: 'Probe, % of the block',
      model: 'Model, % of the block',
      happened: 'What happened',
    },
    wateredWords: 'watered',
    callWords: (kind: string, state: string) => `${kind}: ${state}`,
    thinned: (step: string) => `One row for each ${step}.`,
    back: 'All sizes',
  },

  water: {
    title: 'Water carried',
    total: (water: string, days: number) => `${water} in ${days} days`,
    perDay: (water: string) => `${water} a day`,
    none: 'No watering in this time.',
    plotLabel: 'Water carried on each day, by block size. The table below holds the numbers.',
    perTray: 'Tray by tray',
    perTrayLabel: 'Water of each tray on each day, as drops. The table below holds the numbers.',
    day: 'Day',
    week: 'Week from',
    tray: 'Tray',
    all: 'All',
    mean: 'A day',
    workedOut: (count: number, all: number) =>
      `${count} of ${all} amounts were worked out from the rise of the blocks’ water, not told or measured.`,
    unknown: (count: number) =>
      count === 1
        ? 'One watering is known only to have happened; it is not in the sums.'
        : `${count} waterings are known only to have happened; they are not in the sums.`,
  },

  probes: {
    title: 'Can the probes be trusted?',
    allWell: 'All of them are trusted.',
    unwell: (count: number) => (count === 1 ? 'One is in doubt.' : `${count} are in doubt.`),
    none: 'This farm has no probes: forecasts rest on physics and on what is told.',
    kinds: {
      'air-temperature': 'air temperature',
      'relative-humidity': 'air humidity',
      light: 'light',
      'block-moisture': 'block moisture',
      'tray-weight': 'tray weight',
    },
    well: 'trusted',
    reasons: englishDoubts,
    onTray: (tray: string) => `in tray ${tray}`,
    onBench: (bench: string) => `on bench ${bench}`,
    onNothing: 'on no tray',
    never: 'never heard',
    read: (ago: string) => `read ${ago}`,
    heard: (ago: string) => `last heard ${ago}`,
    battery: (left: number) => `battery ${left}`,
    signal: (dbm: number) => `signal ${dbm} dBm`,
    beyond: 'beyond what its calibration was weighed for: counts, with more doubt',
    unjudged: 'not judged',
    courseLabel: (probe: string) => `Course of ${probe}. The table below holds the numbers.`,
    readings: (count: number) => `${numberWords(count)} readings`,
    flagged: (share: string) => `${share} of them do not count`,
    gapsTitle: 'Gaps',
    noGaps: 'no gaps',
    gap: (from: string, span: string) => `${from}, for ${span}`,
    moreGaps: (count: number) => `and ${count} more`,
    driftTitle: 'Drift',
    noDrift: 'no drift noticed',
    drift: (when: string, drift: string) => `${when}: ${drift} of the block`,
    calibrationTitle: 'Calibration',
    noCalibration: 'not calibrated; `drybell calibrate` walks you through it',
    calibrationLabel: (points: number) => `Calibration curve through ${points} weighed points`,
    volts: 'volts',
    at: 'Time',
    value: (unit: string) => `Mean, ${unit}`,
    doubted: 'Does not count',
  },
};
