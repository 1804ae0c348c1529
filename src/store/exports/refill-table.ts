import type { HoursEstimate } from '../../drying/curves/kaplan-meier.js';
import type { RefillHours } from '../../drying/curves/refill-hours.js';

/** The table of hours to refill in columns, for the terminal. */
export function refillTable(sizes: readonly RefillHours[]): string {
  const header = [
    'block',
    'dry-downs',
    'refill reached',
    'one in ten by',
    'half by',
    'nine in ten by',
    'longest',
    'rounds a day',
  ];
  const rows = sizes.map((size) => [
    `${size.blockSideMm} mm`,
    `${size.dryDownCount}`,
    `${size.reachedCount}`,
    hours(size.p10),
    hours(size.p50),
    hours(size.p90),
    `${size.longestH.toFixed(1)} h`,
    size.roundsPerDay === null ? 'not known' : size.roundsPerDay.toFixed(1),
  ]);
  const widths = header.map((name, column) =>
    Math.max(name.length, ...rows.map((row) => row[column]?.length ?? 0)),
  );
  const line = (cells: readonly string[]) =>
    cells.map((cell, column) => cell.padStart(widths[column] ?? 0)).join('  ');
  return [
    ...[header, ...rows].map(line),
    '',
    'Hours from a watering to the refill point, with their 90 % range. Dry-downs that were watered before count as "longer than"',
    '(Kaplan-Meier); since growers water what is nearly dry, the true hours may lie somewhat lower.',
    '"Rounds a day" keeps nine dry-downs in ten above the refill point.',
    '',
  ].join('\n');
}

function hours({ hours: estimate, lowHours, highHours }: HoursEstimate): string {
  if (estimate === null) return 'not reached';
  const end = (value: number | null) => (value === null ? '?' : value.toFixed(1));
  return `${estimate.toFixed(1)} h (${end(lowHours)}-${end(highHours)})`;
}
