import type { HoursQuantiles } from '../../../shared/facts/forecast.js';

/** Below this an hour's tenth is worth telling; what would round to 10.0 is 10. */
const FEW_HOURS = 9.95;

function hours(value: number | null): string {
  if (value === null) return '120+';
  return value < FEW_HOURS && value > 0 ? value.toFixed(1) : String(Math.round(value));
}

/** "8.0 h (6.1 to 11)"; "dry" when already at the refill point; "over 120 h" beyond the horizon. */
export function timeLeft({ p10, p50, p90 }: HoursQuantiles): string {
  if (p50 === 0) return 'at refill';
  if (p50 === null) return p10 === null ? 'over 120 h' : `over 120 h (${hours(p10)} at least)`;
  return `${hours(p50)} h (${hours(p10)} to ${hours(p90)})`;
}

/** A tray's water between the refill point and container capacity as a bar of ten blocks. */
export function waterBar(waterContent: number, refill: number, capacity: number): string {
  const CELLS = 10;
  const share = Math.min(1, Math.max(0, (waterContent - refill) / (capacity - refill)));
  const full = Math.round(share * CELLS);
  return '■'.repeat(full) + '·'.repeat(CELLS - full);
}
