import pc from 'picocolors';
import type { RefillHours } from '../../../drying/curves/refill-hours.js';
import type { HoursEstimate } from '../../../numbers/kaplan-meier.js';
import type { FarmWords } from '../../../watering/sentences/words/farm-words.js';
import { columns } from '../../terminal/columns.js';

const HEAD = [
  'block',
  'dry-downs',
  'refill reached',
  'one in ten by',
  'half by',
  'nine in ten by',
  'longest',
  'rounds a day',
];
const NOTE =
  'Hours from a watering to the refill point, with their 90 % range. Dry-downs that were watered before count as "longer than" (Kaplan-Meier); since growers water what is nearly dry, the true hours may lie somewhat lower. "Rounds a day" keeps nine dry-downs in ten above the refill point.';

/** The table of hours to refill for the terminal, sizes as the farm writes them. */
export function refillTable(sizes: readonly RefillHours[], words: FarmWords): string {
  const rows = sizes.map((size) => [
    words.side(size.blockSideMm),
    `${size.dryDownCount}`,
    `${size.reachedCount}`,
    hours(size.p10),
    hours(size.p50),
    hours(size.p90),
    `${size.longestH.toFixed(1)} h`,
    size.roundsPerDay === null ? 'not known' : size.roundsPerDay.toFixed(1),
  ]);
  const [head = '', ...lines] = columns([HEAD, ...rows]);
  return [pc.dim(head), ...lines, '', NOTE].join('\n');
}

function hours({ hours: estimate, lowHours, highHours }: HoursEstimate): string {
  if (estimate === null) return 'not reached';
  const end = (value: number | null) => (value === null ? '?' : value.toFixed(1));
  return `${estimate.toFixed(1)} h (${end(lowHours)}-${end(highHours)})`;
}
