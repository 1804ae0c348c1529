import type { FarmConfig } from '../../../shared/config/farm.js';
import type { Forecaster } from '../forecaster.js';
import { refillAfterH } from './dry-times.js';
import { FarmNotes } from './farm-notes.js';
import { PastErrors } from './past-errors.js';
import { analog, habit, hour, line, type NapkinRule, vpd } from './rules.js';

const HOUR_MS = 3_600_000;

/** Rules that anyone could write on a napkin. */
export const NAPKIN_RULES: Readonly<Record<'HABIT' | 'LINE' | 'VPD' | 'ANALOG' | 'HOUR', NapkinRule>> = {
  HABIT: habit,
  LINE: line,
  VPD: vpd,
  ANALOG: analog,
  HOUR: hour,
};

/**
 * A rule with honest widths: its own forecasts of past dry-downs are held against how those came out (extrapolated at
 * their last pace when the grower watered first), and their errors are the spread of the next forecast.
 */
export function createNapkinForecaster(
  name: keyof typeof NAPKIN_RULES,
  config: FarmConfig,
  startMs: number,
): Forecaster {
  const rule = NAPKIN_RULES[name];
  const notes = new FarmNotes(config, startMs);
  const errors = new PastErrors();
  const said = new Map<string, { readonly atMs: number; readonly hours: number }[]>();
  const middles = new Map<string, number>();

  notes.onDryDown((tray, dryDown) => {
    const refillH = refillAfterH(tray, dryDown);
    if (refillH !== undefined)
      for (const { atMs, hours } of said.get(tray.id) ?? []) {
        const cameTrueH = refillH - (atMs - dryDown.startMs) / HOUR_MS;
        if (atMs >= dryDown.startMs && cameTrueH > 0) errors.add(hours, cameTrueH);
      }
    said.delete(tray.id);
  });

  return {
    name,
    reading: (probeId, atMs, value) => notes.reading(probeId, atMs, value),
    event: (row) => notes.event(row),
    advance: (toMs) => {
      notes.advance(toMs);
      for (const tray of notes.trays.values()) {
        const hours = rule(notes, tray, toMs);
        middles.set(tray.id, hours);
        // every third hour is enough to know one's errors
        if (tray.level === undefined || Math.round(toMs / HOUR_MS) % 3 !== 0) continue;
        const list = said.get(tray.id) ?? [];
        list.push({ atMs: toMs, hours });
        said.set(tray.id, list);
      }
    },
    forecast: (trayId) => errors.triple(middles.get(trayId) ?? 0),
  };
}
