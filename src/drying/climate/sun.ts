import { MS_PER_DAY, MS_PER_MIN } from '../../../shared/base/time-units.js';
import {
  dayOfYearUtc,
  sineOfSolarHeight,
  solarDeclinationRad,
  solarHourAngleRad,
} from '../physics/air/sun.js';

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
  if (place.longitudeDeg !== undefined) return solarHourAngleRad(atMs, place.longitudeDeg);
  const ofDay = (((atMs + place.utcOffsetMin(atMs) * MS_PER_MIN) % MS_PER_DAY) + MS_PER_DAY) % MS_PER_DAY;
  return (ofDay / MS_PER_DAY) * 2 * Math.PI - Math.PI;
}

/** Sine of the sun's elevation, 0 below the horizon. */
export function sunHeight(place: Place, atMs: number): number {
  const latitude = (place.latitudeDeg ?? USUAL_LATITUDE_DEG) * RADIANS;
  const declination = solarDeclinationRad(dayOfYearUtc(atMs));
  const decline = place.latitudeDeg === undefined ? 0.4 * Math.abs(declination) : declination;
  return Math.max(0, sineOfSolarHeight(latitude, decline, hourAngle(place, atMs)));
}

/** Sunlight on a bench on a usual day, W/m²: shape by the sun's height, amplitude a prior that is learned. */
export function usualSunWPerM2(place: Place, atMs: number): number {
  return ZENITH_WPERM2 * USUAL_SKY * sunHeight(place, atMs) ** 1.15;
}

/** −1 in the morning, +1 in the evening. */
export function sunLean(place: Place, atMs: number): number {
  return Math.sin(hourAngle(place, atMs));
}
