import type { UnitsConfig } from '../../../shared/config/notices.js';

const ML_PER_FL_OZ = 29.5735;
const MM_PER_IN = 25.4;
const DAY_MS = 86_400_000;
/** Within this time an hour alone is clear. */
const SAME_NIGHT_MS = 18 * 3_600_000;

/** Times, amounts and sizes in the farm's zone, units and language. */
export interface FarmWords {
  /** "18:00"; with the day where the hour alone would mislead: "tomorrow 07:00", "Thu 07:00". */
  readonly time: (atMs: number, nowMs: number) => string;
  /** "18:00", whatever the day. */
  readonly clock: (atMs: number) => string;
  readonly volume: (ml: number) => string;
  readonly temperature: (celsius: number) => string;
  /** "minis" for the smallest blocks, else their side: "38 mm blocks", "1 1/2 in blocks". */
  readonly blocks: (sideMm: number) => string;
}

/** The smallest common block, 3/4 in, is called a mini; anything up to 22 mm is one. */
const MINI_SIDE_MM = 22;
const EIGHTHS = ['', '1/8', '1/4', '3/8', '1/2', '5/8', '3/4', '7/8'];

/** Inches to the nearest eighth: 38 mm -> "1 1/2". */
function inches(mm: number): string {
  const eighths = Math.round((mm / MM_PER_IN) * 8);
  const whole = Math.floor(eighths / 8);
  const part = EIGHTHS[eighths % 8] ?? '';
  return [whole === 0 ? '' : String(whole), part].filter((text) => text !== '').join(' ') || '0';
}

/** Formatters for one farm; made once, since those of Intl are costly. */
export function createFarmWords(timeZone: string, units: UnitsConfig): FarmWords {
  const clockFormat = new Intl.DateTimeFormat('en-GB', {
    timeZone,
    hour: '2-digit',
    minute: '2-digit',
    hour12: false,
  });
  const weekdayFormat = new Intl.DateTimeFormat('en-GB', { timeZone, weekday: 'short' });
  const dateFormat = new Intl.DateTimeFormat('en-CA', {
    timeZone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
  });
  const day = (atMs: number): string => dateFormat.format(atMs);

  return {
    clock: (atMs) => clockFormat.format(atMs),
    time(atMs, nowMs) {
      const clock = clockFormat.format(atMs);
      if (day(atMs) === day(nowMs) || (atMs >= nowMs && atMs - nowMs < SAME_NIGHT_MS)) return clock;
      if (day(atMs) === day(nowMs + DAY_MS)) return `tomorrow ${clock}`;
      if (day(atMs) === day(nowMs - DAY_MS)) return `yesterday ${clock}`;
      return `${weekdayFormat.format(atMs)} ${clock}`;
    },
    volume(ml) {
      if (units.volume === 'mL') return `${Math.round(ml)} mL`;
      const flOz = ml / ML_PER_FL_OZ;
      return `${flOz < 10 ? Math.round(flOz * 2) / 2 : Math.round(flOz)} fl oz`;
    },
    temperature: (celsius) =>
      units.temperature === 'C' ? `${celsius.toFixed(1)} °C` : `${((celsius * 9) / 5 + 32).toFixed(1)} °F`,
    blocks(sideMm) {
      if (sideMm <= MINI_SIDE_MM) return 'minis';
      return units.length === 'mm' ? `${Math.round(sideMm)} mm blocks` : `${inches(sideMm)} in blocks`;
    },
  };
}
