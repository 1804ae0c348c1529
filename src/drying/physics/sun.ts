/** Sun and day length by latitude: FAO-56 (Allen et al. 1998) Eq 21 to 37. Equation numbers are FAO-56's. */

/** Solar constant, MJ/(m² min). */
const SOLAR_CONSTANT_MJ_PER_M2_MIN = 0.082;
const MINUTES_PER_DAY = 1440;
const HOUR_ANGLE_PER_HOUR = Math.PI / 12;
const MS_PER_DAY = 86_400_000;
const MJ_PER_H_TO_W = 1e6 / 3600;
/**
 * Luminous efficacy of daylight under glass or plastic, lm/W of total sun: 105 to 120 in the daylight literature (from
 * memory). A lux probe's own scatter is larger.
 */
export const DAYLIGHT_LUX_PER_W_PER_M2 = 115;
/** Share of the clear-sky sun that reaches the bench through glass or film and gutters (common practice: 0.6 to 0.7). */
export const GREENHOUSE_TRANSMITTANCE = 0.65;

/** Day of the year, 1 to 366, of an instant in UTC. */
export function dayOfYearUtc(atMs: number): number {
  const startMs = Date.UTC(new Date(atMs).getUTCFullYear(), 0, 1);
  return Math.floor((atMs - startMs) / MS_PER_DAY) + 1;
}

/** Inverse relative distance Earth–Sun (Eq 23), dimensionless. */
export function inverseRelativeDistance(dayOfYear: number): number {
  return 1 + 0.033 * Math.cos((2 * Math.PI * dayOfYear) / 365);
}

/** Solar declination (Eq 24), rad. */
export function solarDeclinationRad(dayOfYear: number): number {
  return 0.409 * Math.sin((2 * Math.PI * dayOfYear) / 365 - 1.39);
}

/** Sunset hour angle (Eq 25), rad; 0 in polar night, π in polar day. Latitude rad, north positive. */
export function sunsetHourAngleRad(latitudeRad: number, declinationRad: number): number {
  const cosine = -Math.tan(latitudeRad) * Math.tan(declinationRad);
  return Math.acos(Math.min(1, Math.max(-1, cosine)));
}

/** Hours of daylight (Eq 34), 0 to 24. */
export function daylightHours(latitudeDeg: number, dayOfYear: number): number {
  const sunset = sunsetHourAngleRad((latitudeDeg * Math.PI) / 180, solarDeclinationRad(dayOfYear));
  return (24 / Math.PI) * sunset;
}

/** Sun above the atmosphere on a horizontal face over a whole day (Eq 21), MJ/(m² d). */
export function extraterrestrialMJPerM2Day(latitudeDeg: number, dayOfYear: number): number {
  const latitude = (latitudeDeg * Math.PI) / 180;
  const declination = solarDeclinationRad(dayOfYear);
  const sunset = sunsetHourAngleRad(latitude, declination);
  return (
    (MINUTES_PER_DAY / Math.PI) *
    SOLAR_CONSTANT_MJ_PER_M2_MIN *
    inverseRelativeDistance(dayOfYear) *
    (sunset * Math.sin(latitude) * Math.sin(declination) +
      Math.cos(latitude) * Math.cos(declination) * Math.sin(sunset))
  );
}

/** Seasonal correction of solar time (Eq 32 and 33), h. */
export function seasonalCorrectionH(dayOfYear: number): number {
  const b = (2 * Math.PI * (dayOfYear - 81)) / 364;
  return 0.1645 * Math.sin(2 * b) - 0.1255 * Math.cos(b) - 0.025 * Math.sin(b);
}

/** Solar hour angle at an instant (Eq 31), rad: 0 at solar noon, −π to π. Longitude degrees east. */
export function solarHourAngleRad(atMs: number, longitudeDegEast: number): number {
  const utcHours = (atMs % MS_PER_DAY) / 3_600_000;
  const solarH = utcHours + longitudeDegEast / 15 + seasonalCorrectionH(dayOfYearUtc(atMs));
  const angle = HOUR_ANGLE_PER_HOUR * (solarH - 12);
  return angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));
}

/** Sine of the sun's height; negative at night. */
export function sineOfSolarHeight(atMs: number, latitudeDeg: number, longitudeDegEast: number): number {
  const latitude = (latitudeDeg * Math.PI) / 180;
  const declination = solarDeclinationRad(dayOfYearUtc(atMs));
  return (
    Math.sin(latitude) * Math.sin(declination) +
    Math.cos(latitude) * Math.cos(declination) * Math.cos(solarHourAngleRad(atMs, longitudeDegEast))
  );
}

/** Sun above the atmosphere on a horizontal face at an instant, W/m²; 0 at night (Eq 28 over a vanishing hour). */
export function extraterrestrialWPerM2(atMs: number, latitudeDeg: number, longitudeDegEast: number): number {
  const sine = sineOfSolarHeight(atMs, latitudeDeg, longitudeDegEast);
  if (sine <= 0) return 0;
  const constantW = (SOLAR_CONSTANT_MJ_PER_M2_MIN * 1e6) / 60;
  return constantW * inverseRelativeDistance(dayOfYearUtc(atMs)) * sine;
}

/** Sun above the atmosphere over one period (Eq 28), MJ/(m² h), between two solar hour angles; clipped to daylight. */
export function extraterrestrialMJPerM2H(
  latitudeDeg: number,
  dayOfYear: number,
  fromHourAngleRad: number,
  toHourAngleRad: number,
): number {
  const latitude = (latitudeDeg * Math.PI) / 180;
  const declination = solarDeclinationRad(dayOfYear);
  const sunset = sunsetHourAngleRad(latitude, declination);
  const from = Math.min(sunset, Math.max(-sunset, fromHourAngleRad));
  const to = Math.min(sunset, Math.max(-sunset, toHourAngleRad));
  const hours = (toHourAngleRad - fromHourAngleRad) / HOUR_ANGLE_PER_HOUR;
  return (
    ((12 * 60) / Math.PI / hours) *
    SOLAR_CONSTANT_MJ_PER_M2_MIN *
    inverseRelativeDistance(dayOfYear) *
    ((to - from) * Math.sin(latitude) * Math.sin(declination) +
      Math.cos(latitude) * Math.cos(declination) * (Math.sin(to) - Math.sin(from)))
  );
}

/** Clear-sky share of the sun above the atmosphere (Eq 37) at `elevationM`. */
export function clearSkyShare(elevationM: number): number {
  return 0.75 + 2e-5 * elevationM;
}

/** Mean W/m² of a period that brings this many MJ/m² per hour. */
export function wattsFromMJPerH(megajoulesPerM2H: number): number {
  return megajoulesPerM2H * MJ_PER_H_TO_W;
}

/** Sun in W/m² from a lux reading of daylight. */
export function solarWPerM2FromLux(lux: number): number {
  return lux / DAYLIGHT_LUX_PER_W_PER_M2;
}
