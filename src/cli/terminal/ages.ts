import { MS_PER_MIN } from '../../../shared/base/time-units.js';

const HOUR_MS = 60 * MS_PER_MIN;
const DAY_MS = 24 * HOUR_MS;

/** How long something is ago or takes, in the unit that says it shortest: "40 s", "12 min", "3 h", "5 d". */
export function span(ms: number): string {
  if (ms < 2 * MS_PER_MIN) return `${Math.max(0, Math.round(ms / 1000))} s`;
  if (ms < 2 * HOUR_MS) return `${Math.round(ms / MS_PER_MIN)} min`;
  if (ms < 2 * DAY_MS) return `${Math.round(ms / HOUR_MS)} h`;
  return `${Math.round(ms / DAY_MS)} d`;
}
