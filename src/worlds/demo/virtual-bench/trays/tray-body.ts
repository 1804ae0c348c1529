import { MS_PER_HOUR } from '../../../../../shared/base/time-units.js';
import type { Cover } from '../../../../../shared/config/trays.js';
import type { BenchAir } from '../air/greenhouse-air.js';
import type { RandomSource } from '../air/random-source.js';
import { saturationKPa, saturationSlopeKPaPerK } from '../air/vapour.js';
import {
  type BlockBody,
  blockWaterM3PerM3,
  exchangeLayers,
  layOutBlocks,
  type MediumPlan,
  OUTWARD_SIDES,
  surfaceResistanceSPerM,
} from './block-body.js';
import { leafAreaIndex, lightUnderLeaves, type SeedlingPlan, transpirationGPerM2H } from './seedlings.js';

/** A tray of the virtual bench, as it is drawn for a scenario. */
export interface TrayPlan {
  readonly id: string;
  readonly blockSideMm: number;
  readonly blockCount: number;
  readonly trayAreaM2: number;
  readonly refillPointM3PerM3: number;
  readonly medium: MediumPlan;
  readonly seedlings: SeedlingPlan;
  readonly lossLogSd: number;
  readonly capacitySd: number;
  /** This tray's place on the bench: factors on light and air. */
  readonly lightFactor: number;
  readonly airFactor: number;
  /** Absorbed share of light. */
  readonly absorptivity: number;
  /** Hours in which a block takes up most of what it lacks. */
  readonly uptakeH: number;
  readonly coverFactor: Readonly<Record<Cover, number>>;
}

export interface TrayBody {
  readonly plan: TrayPlan;
  readonly blocks: readonly BlockBody[];
  cover: Cover;
  germinatedAtMs: number | undefined;
  /** Water standing in the channels, mL, and when the rest is tipped out. */
  standingMl: number;
  tipOutAtMs: number;
  lastPourAtMs: number;
}

/** Psychrometric constant near sea level, kPa/K. */
const GAMMA = 0.0665;
/** Volumetric heat capacity of air, J/(m3 K); longwave exchange, W/(m2 K); latent heat, J/g. */
const RHO_CP = 1216;
const LONGWAVE = 5.7;
const LATENT_J_PER_G = 2450;
/** Blocks take most of what they take up from below through the outer layer. */
const UPTAKE_TO_SHELL = 0.65;
/** A block that shed water is itself again at this share of its capacity. */
const WILLING_AGAIN = 0.8;

export function createTrayBody(plan: TrayPlan, random: RandomSource): TrayBody {
  return {
    plan,
    blocks: layOutBlocks(plan.blockCount, plan.medium, plan, random),
    cover: 'none',
    germinatedAtMs: undefined,
    standingMl: 0,
    tipOutAtMs: Number.POSITIVE_INFINITY,
    lastPourAtMs: Number.NEGATIVE_INFINITY,
  };
}

/** Evaporation of a face, g/(m2 h): energy balance with longwave, linearised in the surface's temperature (Penman 1948). */
function faceGPerM2H(
  conductanceMPerS: number,
  resistanceSPerM: number,
  deficitKPa: number,
  netRadiationWPerM2: number,
  slopeKPaPerK: number,
): number {
  const vapour = 1 / (1 / conductanceMPerS + resistanceSPerM);
  const heat = RHO_CP * conductanceMPerS + LONGWAVE;
  const perKPa = (RHO_CP * vapour) / GAMMA;
  const flux =
    (perKPa * (deficitKPa + (slopeKPaPerK * netRadiationWPerM2) / heat)) /
    (1 + (perKPa * slopeKPaPerK) / heat);
  return Math.max(0, (flux * 3600) / LATENT_J_PER_G);
}

function takeUp(tray: TrayBody, blockMl: number, stepH: number): void {
  const { medium, uptakeH } = tray.plan;
  let wanted = 0;
  const wishes = tray.blocks.map((block) => {
    const lacking = Math.max(0, block.capacityM3PerM3 - blockWaterM3PerM3(block, medium));
    const willing = block.sheds ? medium.shedUptakeShare : 1;
    const wish = lacking * blockMl * (1 - Math.exp((-2.3 * stepH * willing) / uptakeH));
    wanted += wish * block.weight;
    return wish;
  });
  if (wanted <= 0) return;
  const given = Math.min(1, tray.standingMl / wanted);
  tray.blocks.forEach((block, index) => {
    const water = ((wishes[index] ?? 0) * given) / blockMl;
    block.shellM3PerM3 += (water * UPTAKE_TO_SHELL) / medium.shellShare;
    block.coreM3PerM3 += (water * (1 - UPTAKE_TO_SHELL)) / (1 - medium.shellShare);
    if (block.sheds && blockWaterM3PerM3(block, medium) > WILLING_AGAIN * block.capacityM3PerM3)
      block.sheds = false;
  });
  tray.standingMl -= wanted * given;
}

/**
 * Moves a tray on by `stepH` hours in this air; returns the vapour it gave off, g per m2 of tray and hour.
 * Air between the blocks is as wet as the balance of what the sides give off and what leaves at the top.
 */
export function stepTray(tray: TrayBody, air: BenchAir, atMs: number, stepH: number): number {
  const { plan } = tray;
  const { medium } = plan;
  const sideM = plan.blockSideMm / 1000;
  const blockMl = sideM ** 3 * 1e6;
  const cover = plan.coverFactor[tray.cover];
  const deficitKPa = Math.max(0, saturationKPa(air.temperatureC) - air.vapourKPa) * cover;
  const slope = saturationSlopeKPaPerK(air.temperatureC);
  const solar = air.solarWPerM2 * plan.lightFactor * (tray.cover === 'none' ? 1 : 0.85 * cover ** 0.7);
  const speed = air.airSpeedMPerS * plan.airFactor * (tray.cover === 'none' ? 1 : 0.3);

  const sizeFactor = (0.038 / sideM) ** 0.3;
  const topMPerS = (0.0032 + 0.012 * speed ** 0.65) * sizeFactor;
  const sideMPerS = 0.7 * topMPerS;
  const channelM2 = Math.max(0.12 * plan.trayAreaM2, plan.trayAreaM2 - plan.blockCount * sideM * sideM);
  const exchangeM3PerS = channelM2 * (0.0035 + 0.014 * speed);
  let sidesM3PerS = 0;
  const resistances = tray.blocks.map((block) => {
    const resistance = surfaceResistanceSPerM(block, medium);
    const inward = 4 - OUTWARD_SIDES[block.position];
    sidesM3PerS += (block.weight * inward * sideM * sideM * 0.35) / (1 / sideMPerS + resistance);
    return resistance;
  });
  const inwardDeficit = (deficitKPa * exchangeM3PerS) / (exchangeM3PerS + sidesM3PerS);

  const leafArea = leafAreaIndex(plan.seedlings, tray.germinatedAtMs, atMs);
  const onBlocks = solar * plan.absorptivity * lightUnderLeaves(leafArea);
  const plantMl =
    ((transpirationGPerM2H(plan.seedlings, leafArea, { solarWPerM2: solar, deficitKPa }) * plan.trayAreaM2) /
      plan.blockCount) *
    stepH;

  if (tray.standingMl > 0) takeUp(tray, blockMl, stepH);
  if (atMs >= tray.tipOutAtMs || tray.standingMl < 1) {
    tray.standingMl = 0;
    tray.tipOutAtMs = Number.POSITIVE_INFINITY;
  }

  let lostMl = 0;
  tray.blocks.forEach((block, index) => {
    const resistance = resistances[index] ?? medium.wetResistanceSPerM;
    const outward = OUTWARD_SIDES[block.position];
    const topG = faceGPerM2H(topMPerS, resistance, deficitKPa, onBlocks, slope);
    const outG = outward > 0 ? faceGPerM2H(sideMPerS, resistance, deficitKPa, 0.35 * onBlocks, slope) : 0;
    const inG = faceGPerM2H(sideMPerS, resistance, inwardDeficit, 0.06 * onBlocks, slope);
    const faceM2 = sideM * sideM;
    const dryMl = (topG + outward * outG + (4 - outward) * inG) * faceM2 * stepH * block.lossFactor;
    const shellMl = Math.max(0, block.shellM3PerM3 - medium.residualM3PerM3) * blockMl * medium.shellShare;
    const fromShell = Math.min(dryMl, 0.8 * shellMl);
    block.shellM3PerM3 -= fromShell / (blockMl * medium.shellShare);

    const open = Math.min(1, Math.max(0, block.coreM3PerM3 / plan.seedlings.closesBelowM3PerM3 - 0.3) / 0.7);
    const coreMl =
      Math.max(0, block.coreM3PerM3 - medium.residualM3PerM3) * blockMl * (1 - medium.shellShare);
    const fromCore = Math.min(plantMl * open, 0.8 * coreMl);
    block.coreM3PerM3 -= fromCore / (blockMl * (1 - medium.shellShare));

    exchangeLayers(block, medium, stepH);
    if (block.shellM3PerM3 < medium.shedsBelowM3PerM3) block.sheds = true;
    lostMl += (fromShell + fromCore) * block.weight;
  });
  return lostMl / plan.trayAreaM2 / stepH;
}

/** Pours into the channels; `tipOutAfterH` absent: whatever stands there is left to be taken up. */
export function pourInto(tray: TrayBody, ml: number, atMs: number, tipOutAfterH: number | undefined): void {
  tray.standingMl += ml;
  tray.lastPourAtMs = atMs;
  tray.tipOutAtMs = tipOutAfterH === undefined ? Number.POSITIVE_INFINITY : atMs + tipOutAfterH * MS_PER_HOUR;
}

/** Water content of the tray's mean block, m3/m3. */
export function meanBlockM3PerM3(tray: TrayBody): number {
  let water = 0;
  let weight = 0;
  for (const block of tray.blocks) {
    water += blockWaterM3PerM3(block, tray.plan.medium) * block.weight;
    weight += block.weight;
  }
  return water / weight;
}

/** Water content below which a tenth of the blocks lie, m3/m3: weighted quantile of the representative blocks. */
export function driestTenthM3PerM3(tray: TrayBody): number {
  const waters = tray.blocks
    .map((block) => ({ water: blockWaterM3PerM3(block, tray.plan.medium), weight: block.weight }))
    .sort((a, b) => a.water - b.water);
  const tenth = 0.1 * waters.reduce((sum, { weight }) => sum + weight, 0);
  let passed = 0;
  let before = waters[0]?.water ?? 0;
  for (const { water, weight } of waters) {
    if (passed + weight >= tenth) return before + ((water - before) * (tenth - passed)) / weight;
    passed += weight;
    before = water;
  }
  return before;
}

/** What a full tray lacks now, mL over all blocks. */
export function missingMl(tray: TrayBody): number {
  const blockMl = (tray.plan.blockSideMm / 10) ** 3;
  return tray.blocks.reduce(
    (sum, block) =>
      sum +
      Math.max(0, block.capacityM3PerM3 - blockWaterM3PerM3(block, tray.plan.medium)) *
        blockMl *
        block.weight,
    0,
  );
}
