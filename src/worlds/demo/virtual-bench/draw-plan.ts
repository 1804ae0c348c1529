import type { HousePlan } from './air/greenhouse-air.js';
import type { WeatherPlan } from './air/outdoor-weather.js';
import type { RandomSource } from './air/random-source.js';
import type { ClimateProbePlan } from './probes/climate-probe.js';
import type { MoistureProbePlan } from './probes/moisture-probe.js';
import type { ProbeFault } from './probes/probe-faults.js';
import type { TrayPlan } from './trays/tray-body.js';

/** Ranges from which a scenario's weather and house are drawn; the middle of ordinary when absent. */
export interface SceneStyle {
  readonly latitudeDeg?: number;
  readonly cloudShare?: readonly [number, number];
  readonly dewDepressionK?: readonly [number, number];
  readonly windMPerS?: readonly [number, number];
  readonly yearMeanC?: readonly [number, number];
  readonly heated?: boolean;
  readonly fan?: boolean;
}

export function drawWeather(style: SceneStyle, random: RandomSource): WeatherPlan {
  const latitudeDeg = style.latitudeDeg ?? random.between(38, 55);
  return {
    latitudeDeg,
    longitudeDeg: random.between(-5, 20),
    yearMeanC: random.between(...(style.yearMeanC ?? [9, 14])),
    yearSwingC: random.between(7, 11),
    daySwingC: random.between(4, 8),
    airMassSdC: random.between(1.5, 3),
    airMassMemoryH: random.between(40, 90),
    cloudShare: random.between(...(style.cloudShare ?? [0.35, 0.7])),
    cloudMemoryH: random.between(10, 28),
    dewDepressionK: random.between(...(style.dewDepressionK ?? [3, 8])),
    windMPerS: random.between(...(style.windMPerS ?? [1.5, 4])),
    frontsPerDay: random.between(0.1, 0.3),
  };
}

export function drawHouse(style: SceneStyle, random: RandomSource): HousePlan {
  return {
    transmission: random.between(0.45, 0.75),
    lossWPerM2K: random.between(5, 9),
    solarToAirShare: random.between(0.3, 0.55),
    massWhPerM2K: random.between(12, 35),
    leakPerH: random.between(0.5, 1.5),
    ventedPerH: random.between(12, 35),
    ventAboveC: random.between(22, 28),
    ventDelayH: random.between(0.2, 1.5),
    heatToC: (style.heated ?? random.chance(0.6)) ? random.between(9, 16) : undefined,
    stillAirMPerS: random.between(0.04, 0.12),
    fanMPerS: (style.fan ?? random.chance(0.3)) ? random.between(0.1, 0.35) : 0,
    otherVapourGPerM2HPer100W: random.between(5, 30),
    heightM: random.between(2, 3),
  };
}

/** @param blockSideMm side of a block @param blockCount blocks on the tray */
export function drawTray(
  id: string,
  blockSideMm: number,
  blockCount: number,
  random: RandomSource,
): TrayPlan {
  const containerCapacityM3PerM3 = Math.min(0.76, random.normal(0.65 - 0.0006 * (blockSideMm - 19), 0.035));
  const refillPointM3PerM3 = Math.min(containerCapacityM3PerM3 - 0.14, random.normal(0.37, 0.035));
  return {
    id,
    blockSideMm,
    blockCount,
    trayAreaM2: Math.max(0.1626, blockCount * (blockSideMm / 1000) ** 2 * 1.25),
    refillPointM3PerM3,
    medium: {
      containerCapacityM3PerM3,
      residualM3PerM3: random.between(0.04, 0.09),
      shellShare: random.between(0.35, 0.55),
      wetResistanceSPerM: random.between(10, 60),
      surfaceDryBelowM3PerM3: refillPointM3PerM3 * random.between(0.75, 1.12),
      resistanceRise: random.between(10, 24),
      exchangePerH: random.between(0.5, 1.6) * Math.min(1.5, 30 / blockSideMm),
      exchangePower: random.between(0.8, 2.5),
      shedsBelowM3PerM3: random.between(0.12, 0.2),
      shedUptakeShare: random.between(0.04, 0.2),
    },
    seedlings: {
      finalLeafAreaIndex: random.between(0.3, 1.6),
      halfGrownDays: random.between(9, 18),
      growthSpreadDays: random.between(2.5, 5),
      radiationShare: random.between(0.25, 0.5),
      deficitKgPerM2HKPa: random.between(0.008, 0.022),
      closesBelowM3PerM3: refillPointM3PerM3 * random.between(0.7, 1),
    },
    lossLogSd: random.between(0.05, 0.14),
    capacitySd: random.between(0.006, 0.018),
    lightFactor: random.around(1, 0.12),
    airFactor: random.around(1, 0.25),
    absorptivity: random.between(0.6, 0.85),
    uptakeH: random.between(0.4, 0.9) * (blockSideMm / 30) ** 0.6,
    coverFactor: {
      none: 1,
      film: random.between(0.2, 0.42),
      'loose-dome': random.between(0.1, 0.24),
      'tight-dome': random.between(0.03, 0.09),
    },
  };
}

export function drawMoistureProbe(
  id: string,
  trayId: string,
  faults: readonly ProbeFault[],
  random: RandomSource,
): MoistureProbePlan {
  return {
    id,
    trayId,
    faults,
    dryVolts: random.between(2.5, 2.9),
    soakedVolts: random.between(1.0, 1.3),
    bend: random.between(0, 1.6),
    seesShellShare: random.between(0.25, 0.65),
    witnessLossFactor: random.around(1, 0.08),
    witnessCapacityOffset: random.normal(0, 0.015),
    witnessOutwardSides: random.pick(['edge', 'inner', 'inner'] as const),
    gain: random.around(1, 0.05),
    offsetM3PerM3: random.normal(0, 0.014),
    driftM3PerM3PerDay: random.normal(0, 0.0008),
    temperatureM3PerM3PerK: random.normal(0.0005, 0.0007),
    wanderSdM3PerM3: random.between(0.003, 0.01),
    wanderMemoryH: random.between(2, 10),
    noiseSdM3PerM3: random.between(0.001, 0.004),
    lagH: random.between(0.1, 0.6),
    wickingM3PerM3: random.normal(0, 0.03),
    wickingH: random.between(0.5, 1.5),
    losesContactBelowM3PerM3: random.chance(0.15) ? random.between(0.2, 0.32) : 0,
    quantumVolts: 5 / 1024,
  };
}

export function drawClimateProbe(
  kind: ClimateProbePlan['kind'],
  id: string,
  benchId: string,
  faults: readonly ProbeFault[],
  random: RandomSource,
): ClimateProbePlan {
  const sunHeatingKPerWPerM2 = random.between(0.001, 0.007);
  const common = { id, benchId, kind, faults };
  if (kind === 'air-temperature')
    return {
      ...common,
      gain: 1,
      offset: random.normal(0, 0.3),
      noiseSd: 0.08,
      wanderSd: 0.1,
      lagH: 0.1,
      sunHeatingKPerWPerM2,
    };
  if (kind === 'relative-humidity')
    return {
      ...common,
      gain: random.around(1, 0.02),
      offset: random.normal(0, 2),
      noiseSd: 0.4,
      wanderSd: 0.8,
      lagH: 0.15,
      sunHeatingKPerWPerM2,
    };
  return {
    ...common,
    unit: 'lx',
    gain: random.around(1, 0.15),
    offset: 0,
    noiseSd: 0,
    wanderSd: 0,
    lagH: 0.02,
    sunHeatingKPerWPerM2: 0,
  };
}
