import { describe, expect, it } from 'vitest';
import {
  clearSkyShare,
  daylightHours,
  dayOfYearUtc,
  extraterrestrialMJPerM2Day,
  extraterrestrialMJPerM2H,
  extraterrestrialWPerM2,
  inverseRelativeDistance,
  seasonalCorrectionH,
  solarDeclinationRad,
  solarHourAngleRad,
  sunsetHourAngleRad,
} from '../../src/drying/physics/sun.js';
import { comparisonsOf } from './comparison.js';

const compare = comparisonsOf('sun');
const RADIANS = Math.PI / 180;

describe('FAO-56 sun', () => {
  it('meets examples 8 and 9: 20 °S on 3 September', () => {
    const day = dayOfYearUtc(Date.parse('2025-09-03T12:00:00Z'));
    expect(day).toBe(246);
    compare('angles, rad', inverseRelativeDistance(day), 0.985);
    compare('angles, rad', solarDeclinationRad(day), 0.12);
    compare('angles, rad', sunsetHourAngleRad(-20 * RADIANS, solarDeclinationRad(day)), 1.527);
    compare('Ra, MJ/(m² d)', extraterrestrialMJPerM2Day(-20, day), 32.2);
    compare('daylight, h', daylightHours(-20, day), 11.7);
  });

  it('meets example 10: Rio de Janeiro on 15 May', () => {
    compare('Ra, MJ/(m² d)', extraterrestrialMJPerM2Day(-22.9, 135), 25.1);
    compare('daylight, h', daylightHours(-22.9, 135), 10.9);
    const shineH = 220 / 31;
    const measured =
      (0.25 + (0.5 * shineH) / daylightHours(-22.9, 135)) * extraterrestrialMJPerM2Day(-22.9, 135);
    compare('Ra, MJ/(m² d)', measured, 14.5);
  });

  it("meets example 19: N'Diaye (16°13' N, 16°15' W) on 1 October, 14 to 15 h", () => {
    const middleMs = Date.parse('2025-10-01T15:30:00Z');
    const middle = solarHourAngleRad(middleMs, -16.25);
    const half = Math.PI / 24;
    const megajoules = extraterrestrialMJPerM2H(
      16 + 13 / 60,
      dayOfYearUtc(middleMs),
      middle - half,
      middle + half,
    );
    compare('seasonal correction, h', seasonalCorrectionH(274), 0.1889);
    compare('hour angle, rad', middle, 0.682);
    compare('hourly Ra, MJ/(m² h)', megajoules, 3.543);
    compare('clear sky, MJ/(m² h)', clearSkyShare(8) * megajoules, 2.658);
  });

  it('the sum of instants is the day, at every latitude and season, polar night and day included', () => {
    for (const latitude of [-70, -45, 0, 52.5, 75])
      for (const date of ['2025-03-21', '2025-06-21', '2025-12-21']) {
        const noonMs = Date.parse(`${date}T12:00:00Z`);
        let joules = 0;
        for (let minute = 0; minute < 1440; minute++)
          joules += 60 * extraterrestrialWPerM2(noonMs - 43_200_000 + minute * 60_000, latitude, 0);
        const day = extraterrestrialMJPerM2Day(latitude, dayOfYearUtc(noonMs));
        expect(joules / 1e6).toBeGreaterThan(0.995 * day - 0.01);
        expect(joules / 1e6).toBeLessThan(1.005 * day + 0.01);
      }
  });
});
