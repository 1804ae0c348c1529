const MS_PER_HOUR = 3_600_000;
const MS_PER_DAY = 24 * MS_PER_HOUR;
const RADIANS = Math.PI / 180;
/** Latitude taken when none is configured, degrees: where most such farms are. The amplitude is learned anyhow. */
const USUAL_LATITUDE_DEG = 45;
/** Light of a clear sky that reaches a bench under glass or film at the zenith, W/m²: 0.65 of about 1000 (judgement). */
const ZENITH_WPERM2 = 650;
/** Mean share of a clear sky's light over days of all kinds (judgement). */
const USUAL_SKY = 0.6;

export interface Place {
  readonly latitudeDeg: number | undefined;
  readonly longitudeDeg: number | undefined;
  readonly utcOffsetMin: (atMs: number) => number;
}

/** Local solar hour angle, radians, 0 at solar noon, −π to π; from longitude, or else from the farm's clock. */
export function hourAngle(place: Place, atMs: number): number {
  const offsetMs =
    place.longitudeDeg === undefined
      ? place.utcOffsetMin(atMs) * 60_000
      : (place.longitudeDeg / 360) * MS_PER_DAY;
  const ofDay = (((atMs + offsetMs) % MS_PER_DAY) + MS_PER_DAY) % MS_PER_DAY;
  return (ofDay / MS_PER_DAY) * 2 * Math.PI - Math.PI;
}

/** Declination of the sun, radians (Cooper 1969): 23.45° sin(360 (284 + n) / 365). */
export function declination(atMs: number): number {
  const date = new Date(atMs);
  const dayOfYear = (atMs - Date.UTC(date.getUTCFullYear(), 0, 1)) / MS_PER_DAY + 1;
  return 23.45 * RADIANS * Math.sin((2 * Math.PI * (284 + dayOfYear)) / 365);
}

/** Sine of the sun's elevation, 0 below the horizon. */
export function sunHeight(place: Place, atMs: number): number {
  const latitude = (place.latitudeDeg ?? USUAL_LATITUDE_DEG) * RADIANS;
  const decline = place.latitudeDeg === undefined ? 0.4 * Math.abs(declination(atMs)) : declination(atMs);
  const sine =
    Math.sin(latitude) * Math.sin(decline) +
    Math.cos(latitude) * Math.cos(decline) * Math.cos(hourAngle(place, atMs));
  return Math.max(0, sine);
}

/** Sunlight on a bench on a usual day, W/m²: shape by the sun's height, amplitude a prior that is learned. */
export function usualSunWPerM2(place: Place, atMs: number): number {
  return ZENITH_WPERM2 * USUAL_SKY * sunHeight(place, atMs) ** 1.15;
}

/** −1 in the morning, +1 in the evening. */
export function sunLean(place: Place, atMs: number): number {
  return Math.sin(hourAngle(place, atMs));
}

/** W/m² of sunlight per lx: about 1 W/m² to 120 lx (common practice for daylight). */
export const W_PER_M2_PER_LX = 1 / 120;
