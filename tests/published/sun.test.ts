import { describe, expect, it } from 'vitest';
import { hourAngle } from '../../src/drying/climate/sun.js';
import {
  dayOfYearUtc,
  seasonalCorrectionH,
  sineOfSolarHeight,
  solarDeclinationRad,
  solarHourAngleRad,
} from '../../src/drying/physics/air/sun.js';
import { comparisonsOf } from './comparison.js';

const compare = comparisonsOf('sun');
const RADIANS = Math.PI / 180;
/** Solar constant, MJ/(m² min), and its change with the distance of the sun (FAO-56 Eq 21 and 23). */
const SOLAR_CONSTANT = 0.082;
const nearness = (dayOfYear: number): number => 1 + 0.033 * Math.cos((2 * Math.PI * dayOfYear) / 365);

/** Sun above the atmosphere from one hour angle to another, MJ/m²: the house's height of the sun, summed minute by minute. */
function megajoules(latitudeDeg: number, dayOfYear: number, fromRad: number, toRad: number): number {
  const minuteRad = Math.PI / 720;
  const steps = Math.round((toRad - fromRad) / minuteRad);
  let sum = 0;
  for (let i = 0; i < steps; i++) {
    const hourAngle = fromRad + (i + 0.5) * minuteRad;
    sum += Math.max(0, sineOfSolarHeight(latitudeDeg * RADIANS, solarDeclinationRad(dayOfYear), hourAngle));
  }
  return SOLAR_CONSTANT * nearness(dayOfYear) * sum;
}

/** Hours of a day with the sun above the horizon, counted by the minute. */
function daylightHours(latitudeDeg: number, dayOfYear: number): number {
  let minutes = 0;
  for (let minute = 0; minute < 1440; minute++) {
    const hourAngle = ((minute + 0.5) / 720 - 1) * Math.PI;
    if (sineOfSolarHeight(latitudeDeg * RADIANS, solarDeclinationRad(dayOfYear), hourAngle) > 0) minutes += 1;
  }
  return minutes / 60;
}

describe('FAO-56 sun', () => {
  it('meets examples 8 and 9: 20 °S on 3 September', () => {
    const day = dayOfYearUtc(Date.parse('2025-09-03T12:00:00Z'));
    expect(day).toBe(246);
    compare('declination, rad', solarDeclinationRad(day), 0.12);
    compare('Ra, MJ/(m² d)', megajoules(-20, day, -Math.PI, Math.PI), 32.2);
    compare('daylight, h', daylightHours(-20, day), 11.7);
  });

  it('meets example 10: Rio de Janeiro on 15 May', () => {
    compare('Ra, MJ/(m² d)', megajoules(-22.9, 135, -Math.PI, Math.PI), 25.1);
    compare('daylight, h', daylightHours(-22.9, 135), 10.9);
  });

  it("meets example 19: N'Diaye (16°13' N, 16°15' W) on 1 October, 14 to 15 h", () => {
    const middleMs = Date.parse('2025-10-01T15:30:00Z');
    const middle = solarHourAngleRad(middleMs, -16.25);
    const place = { latitudeDeg: 16.21, longitudeDeg: -16.25, utcOffsetMin: () => 0 };
    const half = Math.PI / 24;
    compare('seasonal correction, h', seasonalCorrectionH(274), 0.1889);
    compare('hour angle, rad', middle, 0.682);
    compare('hour angle, rad', hourAngle(place, middleMs), 0.682);
    compare(
      'hourly Ra, MJ/(m² h)',
      megajoules(16 + 13 / 60, dayOfYearUtc(middleMs), middle - half, middle + half),
      3.543,
    );
  });
});
