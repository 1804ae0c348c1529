import type { OutdoorAir } from './outdoor-weather.js';
import type { RandomSource } from './random-source.js';
import { saturationKPa, vapourGPerM3 } from './vapour.js';
import { createWanderingValue } from './wandering-value.js';

/** The small greenhouse around a bench. */
export interface HousePlan {
  /** Share of sunlight that reaches the bench, 0 to 1 (glazing, frame, shade cloth). */
  readonly transmission: number;
  /** Heat that the house loses per kelvin and square metre of floor, W/(m2 K), vents shut. */
  readonly lossWPerM2K: number;
  /** Share of the sun that heats air rather than evaporating elsewhere, 0 to 1. */
  readonly solarToAirShare: number;
  /** Thermal mass, Wh/(m2 K). */
  readonly massWhPerM2K: number;
  /** Air changes per hour: leakage, and vents fully open. */
  readonly leakPerH: number;
  readonly ventedPerH: number;
  /** Somebody opens vents above this, and is this slow about it. */
  readonly ventAboveC: number;
  readonly ventDelayH: number;
  /** Heater holds this at night; absent in an unheated house. */
  readonly heatToC?: number | undefined;
  /** Air over the blocks with vents shut, m/s; wind and a fan come on top. */
  readonly stillAirMPerS: number;
  readonly fanMPerS: number;
  /** Water that plants and wet floors give off under sun, g/(m2 h) per 100 W/m2. */
  readonly otherVapourGPerM2HPer100W: number;
  readonly heightM: number;
}

export interface BenchAir {
  readonly temperatureC: number;
  readonly vapourKPa: number;
  readonly solarWPerM2: number;
  readonly airSpeedMPerS: number;
}

/** Steps on by `stepH`; `trayVapourGPerM2H` is what the trays of the bench gave off in the last step. */
export type GreenhouseAir = (outdoor: OutdoorAir, stepH: number, trayVapourGPerM2H: number) => BenchAir;

/** Heat capacity of a cubic metre of air, Wh/K: 1.2 kg/m3 x 1013 J/(kg K). */
const AIR_WH_PER_M3K = (1.2 * 1013) / 3600;

/** Energy and vapour balance of the house air: sun in, loss, vents opened by hand, condensation on the glazing. */
export function createGreenhouseAir(plan: HousePlan, random: RandomSource): GreenhouseAir {
  const draught = createWanderingValue(0.35, 1.5, random.fork('draught'));
  const hands = random.fork('hands');
  let ventOpen = 0;
  let ventWanted = 0;
  let waitedH = 0;
  let delayH = plan.ventDelayH;
  let temperatureC: number | undefined;
  let vapourKPa = 0;
  let solarHeldWPerM2 = 0;

  return (outdoor, stepH, trayVapourGPerM2H) => {
    if (temperatureC === undefined) {
      temperatureC = Math.max(outdoor.temperatureC + 2, plan.heatToC ?? -40);
      vapourKPa = outdoor.vapourKPa;
    }
    const wish = temperatureC > plan.ventAboveC ? 1 : temperatureC < plan.ventAboveC - 5 ? 0 : ventWanted;
    waitedH = wish === ventWanted ? 0 : waitedH + stepH;
    if (waitedH > delayH) {
      ventWanted = wish;
      waitedH = 0;
      delayH = plan.ventDelayH * hands.between(0.3, 2.2);
    }
    ventOpen += (ventWanted - ventOpen) * (1 - Math.exp(-stepH / 0.3));
    const changesPerH = plan.leakPerH * (1 + 0.15 * outdoor.windMPerS) + plan.ventedPerH * ventOpen;
    const solarWPerM2 = outdoor.solarWPerM2 * plan.transmission;
    solarHeldWPerM2 += (solarWPerM2 - solarHeldWPerM2) * (1 - Math.exp(-stepH / 0.8));

    const ventWPerM2K = changesPerH * plan.heightM * AIR_WH_PER_M3K;
    const totalLoss = plan.lossWPerM2K + ventWPerM2K;
    const settlesAtC = outdoor.temperatureC + (plan.solarToAirShare * solarHeldWPerM2) / totalLoss;
    temperatureC =
      settlesAtC + (temperatureC - settlesAtC) * Math.exp((-totalLoss * stepH) / plan.massWhPerM2K);
    if (plan.heatToC !== undefined && temperatureC < plan.heatToC)
      temperatureC += (plan.heatToC - temperatureC) * (1 - Math.exp(-stepH / 0.25));

    const gPerM3PerKPa = vapourGPerM3(1, temperatureC);
    const source =
      (trayVapourGPerM2H + (plan.otherVapourGPerM2HPer100W * solarWPerM2) / 100) /
      (plan.heightM * gPerM3PerKPa);
    const vapourSettles = outdoor.vapourKPa + source / changesPerH;
    vapourKPa = vapourSettles + (vapourKPa - vapourSettles) * Math.exp(-changesPerH * stepH);
    const glazingC = 0.4 * temperatureC + 0.6 * outdoor.temperatureC;
    const glazingKPa = saturationKPa(glazingC);
    if (vapourKPa > glazingKPa) vapourKPa += (glazingKPa - vapourKPa) * (1 - Math.exp(-1.5 * stepH));
    vapourKPa = Math.min(vapourKPa, 0.995 * saturationKPa(temperatureC));

    const windShare = 0.012 * outdoor.windMPerS * (0.3 + 2.5 * ventOpen);
    const airSpeedMPerS = (plan.stillAirMPerS + windShare + plan.fanMPerS) * Math.exp(draught.advance(stepH));
    return { temperatureC, vapourKPa, solarWPerM2, airSpeedMPerS };
  };
}
