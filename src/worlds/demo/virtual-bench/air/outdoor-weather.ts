import { MS_PER_HOUR } from '../../../../../shared/base/time-units.js';
import type { RandomSource } from './random-source.js';
import { clearSkyWPerM2, dayOfYear, sinSunElevation } from './sun.js';
import { saturationKPa } from './vapour.js';
import { createWanderingValue } from './wandering-value.js';

/** What kind of weather a season has; each number is drawn per scenario. */
export interface WeatherPlan {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  /** Mean of the year and half the swing between summer and winter, °C. */
  readonly yearMeanC: number;
  readonly yearSwingC: number;
  /** Half the swing between night and afternoon under a clear sky, °C. */
  readonly daySwingC: number;
  /** Air masses come and go: spread and memory of the daily mean. */
  readonly airMassSdC: number;
  readonly airMassMemoryH: number;
  /** Usual share of the sky covered, 0 to 1, and how long weather stays as it is. */
  readonly cloudShare: number;
  readonly cloudMemoryH: number;
  /** How far the dew point lies below the air's daily mean, K. */
  readonly dewDepressionK: number;
  readonly windMPerS: number;
  /** Fronts per day: cloud first, then a drop of temperature and new air. */
  readonly frontsPerDay: number;
}

export interface OutdoorAir {
  readonly temperatureC: number;
  readonly vapourKPa: number;
  readonly solarWPerM2: number;
  readonly windMPerS: number;
  readonly cloudShare: number;
}

/** Steps on by `stepH` hours to the instant and returns the air outside. */
export type OutdoorWeather = (atMs: number, stepH: number) => OutdoorAir;

const logistic = (x: number): number => 1 / (1 + Math.exp(-x));

/** Weather that changes its mind: a season, wandering air masses, clouds on two time scales, fronts. */
export function createOutdoorWeather(plan: WeatherPlan, random: RandomSource): OutdoorWeather {
  const airMassC = createWanderingValue(plan.airMassSdC, plan.airMassMemoryH, random.fork('air-mass'));
  const slowCloud = createWanderingValue(1.6, plan.cloudMemoryH, random.fork('slow-cloud'));
  const fastCloud = createWanderingValue(0.9, 0.4, random.fork('fast-cloud'));
  const dewK = createWanderingValue(1.8, 30, random.fork('dew'));
  const gusts = createWanderingValue(0.5, 9, random.fork('wind'));
  const fronts = random.fork('fronts');
  const cloudLogit = Math.log(plan.cloudShare / (1 - plan.cloudShare));
  let frontAgeH = Number.POSITIVE_INFINITY;
  let frontDropK = 0;
  let shadedDaySwing = plan.daySwingC;

  return (atMs, stepH) => {
    if (frontAgeH > 60 && fronts.chance(plan.frontsPerDay * (stepH / 24))) {
      frontAgeH = 0;
      frontDropK = fronts.between(2, 8);
    }
    frontAgeH += stepH;
    const frontCloud = 3 * Math.exp(-(((frontAgeH - 8) / 7) ** 2));
    const frontC = -frontDropK * Math.min(1, frontAgeH / 9) * Math.exp(-Math.max(0, frontAgeH - 9) / 40);
    const cloudShare = logistic(
      cloudLogit + slowCloud.advance(stepH) + fastCloud.advance(stepH) + frontCloud,
    );

    const sinElevation = sinSunElevation(atMs, plan.latitudeDeg, plan.longitudeDeg);
    const southern = plan.latitudeDeg < 0 ? Math.PI : 0;
    const season = -Math.cos((2 * Math.PI * (dayOfYear(atMs) - 22)) / 365.25 + southern);
    const dailyMeanC =
      plan.yearMeanC + plan.yearSwingC * season + airMassC.advance(stepH) + (frontAgeH < 200 ? frontC : 0);
    shadedDaySwing +=
      (plan.daySwingC * (1 - 0.75 * cloudShare) - shadedDaySwing) * (1 - Math.exp(-stepH / 5));
    const solarTimeH = (((atMs / MS_PER_HOUR + plan.longitudeDeg / 15) % 24) + 24) % 24;
    const temperatureC = dailyMeanC + shadedDaySwing * Math.cos((2 * Math.PI * (solarTimeH - 15)) / 24);

    const dewPoint = dailyMeanC - plan.dewDepressionK + dewK.advance(stepH) + 2 * (cloudShare - 0.5);
    const windMPerS = plan.windMPerS * Math.exp(gusts.advance(stepH)) * (sinElevation > 0 ? 1.25 : 0.75);
    return {
      temperatureC,
      vapourKPa: Math.min(saturationKPa(dewPoint), 0.98 * saturationKPa(temperatureC)),
      // Kasten & Czeplak (1980): global radiation under cloud = clear sky (1 - 0.75 N^3.4)
      solarWPerM2: clearSkyWPerM2(sinElevation) * (1 - 0.75 * cloudShare ** 3.4),
      windMPerS,
      cloudShare,
    };
  };
}
