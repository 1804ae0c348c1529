import { MS_PER_DAY, MS_PER_HOUR } from '../../../../shared/base/time-units.js';

/** Where the sun stands: FAO-56 (Allen et al. 1998) chapter 3, Eq 24 to 33. Equation numbers are FAO-56's. */

const HOUR_ANGLE_PER_HOUR = Math.PI / 12;
/**
 * Luminous efficacy of daylight under glass or plastic, lm/W of total sun: 105 to 120 in the daylight literature (from
 * memory). A lux probe's own scatter is larger.
 */
export const DAYLIGHT_LUX_PER_W_PER_M2 = 115;
/** Day of the year, 1 to 366, of an instant in UTC. */
export function dayOfYearUtc(atMs: number): number {
  const startMs = Date.UTC(new Date(atMs).getUTCFullYear(), 0, 1);
  return Math.floor((atMs - startMs) / MS_PER_DAY) + 1;
}

/** Solar declination (Eq 24), rad. */
export function solarDeclinationRad(dayOfYear: number): number {
  return 0.409 * Math.sin((2 * Math.PI * dayOfYear) / 365 - 1.39);
}

/** Seasonal correction of solar time (Eq 32 and 33), h. */
export function seasonalCorrectionH(dayOfYear: number): number {
  const b = (2 * Math.PI * (dayOfYear - 81)) / 364;
  return 0.1645 * Math.sin(2 * b) - 0.1255 * Math.cos(b) - 0.025 * Math.sin(b);
}

/** Solar hour angle at an instant (Eq 31), rad: 0 at solar noon, −π to π. Longitude degrees east. */
export function solarHourAngleRad(atMs: number, longitudeDegEast: number): number {
  const utcHours = (atMs % MS_PER_DAY) / MS_PER_HOUR;
  const solarH = utcHours + longitudeDegEast / 15 + seasonalCorrectionH(dayOfYearUtc(atMs));
  const angle = HOUR_ANGLE_PER_HOUR * (solarH - 12);
  return angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));
}

/** Sine of the sun's height (the integrand of Eq 28); negative at night. All angles in rad. */
export function sineOfSolarHeight(latitudeRad: number, declinationRad: number, hourAngleRad: number): number {
  return (
    Math.sin(latitudeRad) * Math.sin(declinationRad) +
    Math.cos(latitudeRad) * Math.cos(declinationRad) * Math.cos(hourAngleRad)
  );
}

/** Sun in W/m² from a lux reading of daylight. */
export function solarWPerM2FromLux(lux: number): number {
  return lux / DAYLIGHT_LUX_PER_W_PER_M2;
}
