import { MS_PER_DAY, MS_PER_HOUR } from '../../../shared/base/time-units.js';
import { moistureIndex, type TrayForecast } from '../../drying/model/tray-forecast.js';
import type { Desk } from '../desk/desk.js';
import { memoryOf, type TrayMemory } from '../desk/desk-state.js';
import type { RegisteredTray } from '../desk/tray-register.js';
import type { Condition } from './condition.js';

/** As wet as just watered, and the deadband below it (moisture index): judgement, no published value for blocks. */
const WET_INDEX = 0.9;
const WET_DEADBAND = 0.05;

/** Notes since when blocks have been as wet as just watered, only where a probe shows it. */
export function noteWetness(
  memory: TrayMemory,
  tray: RegisteredTray,
  forecast: TrayForecast,
  nowMs: number,
): void {
  const index = moistureIndex(forecast);
  const shown = forecast.basis === 'probe' && tray.germinatedAtMs !== undefined;
  if (!shown || index < WET_INDEX - WET_DEADBAND) memory.wetSinceMs = undefined;
  else if (index > WET_INDEX) memory.wetSinceMs ??= nowMs;
}

/**
 * Rule `wet`: germinated, and as wet as just watered for too long. Suppressed by design under a
 * cover, where blocks are meant to stay wet.
 */
export function wetCondition(desk: Desk, tray: RegisteredTray, nowMs: number): Condition {
  const memory = memoryOf(desk.state, tray.id);
  const wetH = memory.wetSinceMs === undefined ? 0 : (nowMs - memory.wetSinceMs) / MS_PER_HOUR;
  return {
    kind: 'wet',
    of: tray.id,
    raw: memory.wetSinceMs === undefined ? 'off' : wetH >= desk.options.notices.wetHours ? 'on' : 'between',
    reason: 'wet-too-long',
    severity: wetH,
    suppressed: tray.cover !== 'none',
  };
}

/** Rule `cover`: still on long after germination, or not confirmed by anybody for days. */
export function coverCondition(desk: Desk, tray: RegisteredTray, nowMs: number): Condition {
  const { coverDaysAfterGermination, coverDoubtedAfterDays } = desk.options.notices;
  const condition = { kind: 'cover' as const, of: tray.id };
  if (tray.cover === 'none') return { ...condition, raw: 'off', reason: 'uncovered', severity: 0 };
  if (tray.germinatedAtMs !== undefined) {
    const sinceDays = (nowMs - Math.max(tray.germinatedAtMs, tray.coveredAtMs ?? 0)) / MS_PER_DAY;
    const raw = sinceDays >= coverDaysAfterGermination ? 'on' : 'off';
    return { ...condition, raw, reason: 'cover-after-germination', severity: sinceDays };
  }
  const silentDays = (nowMs - tray.coverToldAtMs) / MS_PER_DAY;
  const raw = silentDays >= coverDoubtedAfterDays ? 'on' : 'off';
  return { ...condition, raw, reason: 'cover-unconfirmed', severity: silentDays };
}
