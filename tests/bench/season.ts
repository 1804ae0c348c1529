import { availableParallelism, loadavg } from 'node:os';
import type { CameTrue } from '../../src/drying/curves/came-true.js';
import { type Measurement, optionNumber, table } from './measurement.js';
import type { Night } from './season-parts/count-night.js';
import { playSeason, type Season } from './season-parts/play-season.js';
import { slopeOf } from './season-parts/slope.js';

const help = `A season in one go: a farm whose grower waters as he is told and whose crops come and go, with the real monitor, SQLite store,
outbox, own broker, page (one browser listening) and a phone that hears everything, on a clock that goes on as soon as all is done.
Every fifth night the garbage is collected and everything that could pile up is counted.

  --days N       default 120
  --trays N      default 40, half of them with a probe
  --cadence-s N  default 300
  --seed N       default 1
  --every N      nights between two counts, default 5
  --nights       each count's line as well`;

/** Until caches, windows and the model's memory are as full as they get (judgement: the longest looks back ten days). */
const SETTLED_AFTER_DAYS = 15;
const LEAST_NIGHTS = 4;

const CURVES: readonly {
  readonly name: string;
  readonly of: (night: Night) => number;
}[] = [
  { name: 'live heap, MB', of: ({ heapMb }) => heapMb },
  { name: 'resident, MB', of: ({ residentMb }) => residentMb },
  { name: 'store, MB', of: ({ storeMb }) => storeMb },
  { name: 'outbox, MB', of: ({ outboxMb }) => outboxMb },
  { name: "broker's folder, MB", of: ({ brokerMb }) => brokerMb },
  { name: 'timers', of: ({ timers }) => timers },
  { name: 'open handles', of: ({ handles }) => handles },
  { name: 'event emitters', of: ({ emitters }) => emitters },
  { name: 'abort signals', of: ({ signals }) => signals },
];

function report(season: Season, days: number): string {
  const { nights, readingCount, unheardCount, cameCount, callCount, waterCount, warnings } = season;
  const settled = nights.filter(({ day }) => day > Math.min(SETTLED_AFTER_DAYS, days / 3));
  const [first, last] = [settled[0], settled.at(-1)];
  if (first === undefined || last === undefined || settled.length < LEAST_NIGHTS) return 'Give more days.';
  const half = settled.slice(0, Math.ceil(settled.length / 2));
  const line = ({ name, of }: (typeof CURVES)[number]) => {
    const { perDay, error } = slopeOf(settled.map((night) => [night.day, of(night)]));
    const early = slopeOf(half.map((night) => [night.day, of(night)]));
    return [
      name,
      of(first).toFixed(1),
      of(last).toFixed(1),
      `${perDay.toFixed(3)} ± ${error.toFixed(3)}`,
      (early.at0 + early.perDay * last.day).toFixed(1),
    ];
  };
  const band = (name: string, { insideShare, decidedCount, dryDownCount }: CameTrue) => [
    name,
    insideShare === null ? 'too few' : `${(100 * insideShare).toFixed(0)} %`,
    `${decidedCount}`,
    `${dryDownCount}`,
  ];
  const { all, bands } = season.cameTrue;
  return [
    table([
      ['', `night ${first.day}`, `night ${last.day}`, 'a day', 'by the first half'],
      ...CURVES.map(line),
    ]),
    '',
    table([
      ['true outcomes of the last 30 days', 'inside 10-90', 'decided', 'dry-downs'],
      band('all forecasts (80 % promised)', all),
      ...bands.map((one) => band(`${one.fromH} to ${one.belowH} h ahead`, one)),
    ]),
    '',
    `${readingCount.toLocaleString('en')} readings, ${unheardCount} of them not heard by the phone; ${((last.storeMb * 2 ** 20) / readingCount).toFixed(1)} bytes of the store for each, forecasts, roll-ups and journal included`,
    `${waterCount} waterings, ${callCount} calls, ${cameCount} trays that came and went beside; ${warnings.length} warnings of the broker${warnings[0] === undefined ? '' : `, the first: ${warnings[0]}`}`,
  ].join('\n');
}

export const measurement: Measurement = {
  help,
  run: async (options) => {
    const days = optionNumber(options, '--days', 120);
    const startedMs = performance.now();
    const season = await playSeason({
      days,
      trayCount: optionNumber(options, '--trays', 40),
      cadenceS: optionNumber(options, '--cadence-s', 300),
      everyNights: optionNumber(options, '--every', 5),
      seed: optionNumber(options, '--seed', 1),
      ...(options.includes('--nights')
        ? { onNight: (night: Night) => console.log(JSON.stringify(night)) }
        : {}),
    });
    console.log(report(season, days));
    const tookS = (performance.now() - startedMs) / 1000;
    console.log(
      `${tookS.toFixed(0)} s; load of the machine ${(loadavg()[0] ?? 0).toFixed(1)} on ${availableParallelism()} cores`,
    );
    return season.unheardCount + season.warnings.length === 0 ? 0 : 1;
  },
};
