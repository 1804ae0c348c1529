import pc from 'picocolors';
import type { Cover } from '../../../../shared/config/trays.js';
import type {
  BlockEstimate,
  EstimateClimate,
  EstimateRange,
  EstimateTray,
} from '../../../drying/estimate.js';
import { ESTIMATE_HORIZON_H } from '../../../drying/estimate.js';
import { vpdKPa } from '../../../drying/physics/air/psychrometrics.js';
import type { FarmWords } from '../../../watering/sentences/words/farm-words.js';
import { columns } from '../../terminal/columns.js';

const COVER_WORDING: Readonly<Record<Cover, string>> = {
  none: 'no cover',
  film: 'film',
  'loose-dome': 'a loose dome',
  'tight-dome': 'a tight dome',
};
const HOURS_PER_DAY = 24;
/** From here on hours are told as days. */
const TELL_DAYS_FROM_H = 72;
const BAR_CELLS = 28;
const STRIP_NEEDS_COLUMNS = 144;
const DETAIL_NEEDS_COLUMNS = 112;
/** Below this a tray is watered every so many days, above it so many times a day. */
const DAILY_SHARE = 0.8;

/** Hours in words: "under 1 h", "19 h", "4.2 days"; beyond the horizon "over 30 days". */
export function hoursInWords(hours: number | undefined): string {
  if (hours === undefined) return `over ${ESTIMATE_HORIZON_H / HOURS_PER_DAY} days`;
  if (hours < 1) return 'under 1 h';
  return hours < TELL_DAYS_FROM_H ? `${Math.round(hours)} h` : `${(hours / HOURS_PER_DAY).toFixed(1)} days`;
}

function rangeInWords({ p10, p90 }: EstimateRange): string {
  if (p10 === undefined) return hoursInWords(p10);
  return `${hoursInWords(p10)} to ${hoursInWords(p90)}`;
}

/** How often it needs water, in words; between two rhythms the more frequent one. */
export function rhythmInWords(wateringsPerDay: number): string {
  if (wateringsPerDay >= DAILY_SHARE) {
    const times = Math.max(1, Math.round(wateringsPerDay));
    return times === 1 ? 'once a day' : times === 2 ? 'twice a day' : `${times} times a day`;
  }
  const days = Math.floor(1 / wateringsPerDay);
  if (days < 2) return 'once a day';
  return days > ESTIMATE_HORIZON_H / HOURS_PER_DAY ? 'hardly ever' : `every ${days} days`;
}

const NOTE =
  'Physics and priors, no probe: eight farms in ten should find their trays within "likely". A probe, or three dry-downs on your own bench, narrow it. The water is what the blocks take up; pour it into the channels and tip out what stands.';

/** Where the hours lie on a shared scale: a thin line from p10 to p90 with the middle marked. */
function strip({ p10, p50, p90 }: EstimateRange, longestH: number): string {
  const cell = (hours: number | undefined): number =>
    Math.round((Math.min(hours ?? longestH, longestH) / longestH) * (BAR_CELLS - 1));
  const [from, middle, to] = [cell(p10), cell(p50), cell(p90)];
  return Array.from({ length: BAR_CELLS }, (_, i) =>
    i === middle ? '●' : i >= from && i <= to ? '─' : ' ',
  ).join('');
}

function heading(climate: EstimateClimate, tray: EstimateTray | undefined, words: FarmWords): string {
  const { temperatureC, relativeHumidityPct, nightTemperatureC, solarMJPerM2Day, airSpeedMPerS } = climate;
  const heat = climate.bottomHeatWPerM2;
  const night = nightTemperatureC === undefined ? '' : `, ${words.degrees(nightTemperatureC)} at night`;
  const cover =
    tray?.cover === 'none' || tray === undefined ? 'uncovered' : `under ${COVER_WORDING[tray.cover]}`;
  return [
    `${words.degrees(temperatureC)}${night}, ${relativeHumidityPct.toFixed(0)} % humidity`,
    `deficit ${vpdKPa(temperatureC, relativeHumidityPct).toFixed(2)} kPa`,
    `air ${airSpeedMPerS} m/s`,
    `sun ${solarMJPerM2Day.toFixed(1)} MJ/m² a day`,
    ...(heat === undefined ? [] : [`bottom heat ${heat} W/m²`]),
    cover,
  ].join(' · ');
}

/** The answer as a table for a terminal `widthColumns` wide; what is for wide ones is left out. */
export function estimateTable(
  climate: EstimateClimate,
  trays: readonly EstimateTray[],
  estimates: readonly BlockEstimate[],
  words: FarmWords,
  widthColumns: number,
): string {
  const withStrip = widthColumns >= STRIP_NEEDS_COLUMNS;
  const withDetail = widthColumns >= DETAIL_NEEDS_COLUMNS;
  const longestH = Math.min(
    ESTIMATE_HORIZON_H,
    Math.max(...estimates.map(({ hoursToRefill }) => hoursToRefill.p90 ?? ESTIMATE_HORIZON_H)),
  );
  const rows = [
    [
      'block',
      'lasts',
      'first blocks',
      'likely',
      ...(withStrip ? [''] : []),
      'needs water',
      ...(withDetail ? ['per block'] : []),
      'per tray',
    ],
    ...estimates.map((estimate) => [
      words.side(estimate.blockSideMm),
      hoursInWords(estimate.hoursToRefill.p50),
      hoursInWords(estimate.hoursToRefillDriestTenth.p50),
      rangeInWords(estimate.hoursToRefill),
      ...(withStrip ? [strip(estimate.hoursToRefill, longestH)] : []),
      rhythmInWords(estimate.wateringsPerDay.p50),
      ...(withDetail ? [words.volume(estimate.doseMlPerBlock)] : []),
      `${words.volume(estimate.doseMlPerTray)}${withDetail ? ` for ${estimate.blockCount}` : ''}`,
    ]),
  ];
  const [head = '', ...body] = columns(rows, widthColumns);
  return [
    pc.bold('How long blocks last from a watering at seven in the morning'),
    pc.dim(heading(climate, trays[0], words)),
    '',
    `  ${pc.dim(head)}`,
    ...body.map((line) => `  ${line}`),
    '',
    pc.dim(NOTE),
  ].join('\n');
}
