import { MS_PER_DAY, MS_PER_HOUR } from '../../../../../shared/base/time-units.js';

const RAD = Math.PI / 180;

/** Day of the year, 0 at 1 January 00:00 UTC, with fraction. */
export function dayOfYear(atMs: number): number {
  return (atMs - Date.UTC(new Date(atMs).getUTCFullYear(), 0, 1)) / MS_PER_DAY;
}

/**
 * Sine of the sun's elevation; below 0 at night. Declination and equation of time by Spencer (1971), as printed in
 * many solar engineering texts (coefficients from memory; within half a degree, enough for a greenhouse).
 */
export function sinSunElevation(atMs: number, latitudeDeg: number, longitudeDeg: number): number {
  const angle = (2 * Math.PI * dayOfYear(atMs)) / 365.25;
  const declination =
    0.006918 -
    0.399912 * Math.cos(angle) +
    0.070257 * Math.sin(angle) -
    0.006758 * Math.cos(2 * angle) +
    0.000907 * Math.sin(2 * angle);
  const equationMin =
    229.18 *
    (0.000075 +
      0.001868 * Math.cos(angle) -
      0.032077 * Math.sin(angle) -
      0.014615 * Math.cos(2 * angle) -
      0.040849 * Math.sin(2 * angle));
  const utcH = (atMs % MS_PER_DAY) / MS_PER_HOUR;
  const hourAngle = (utcH + longitudeDeg / 15 + equationMin / 60 - 12) * 15 * RAD;
  const latitude = latitudeDeg * RAD;
  return (
    Math.sin(latitude) * Math.sin(declination) +
    Math.cos(latitude) * Math.cos(declination) * Math.cos(hourAngle)
  );
}

/** Clear-sky global radiation on the ground, W/m2, by Haurwitz (1945): 1098 sin h exp(-0.057 / sin h). */
export function clearSkyWPerM2(sinElevation: number): number {
  return sinElevation <= 0.01 ? 0 : 1098 * sinElevation * Math.exp(-0.057 / sinElevation);
}
