import { normalCdf } from '../../numbers/normal.js';
import { type FallingStage, potentialDryingPerH, potentialDryingUntil } from './drying-law.js';
import { blockExchange, meanOpenSides, SIDES, type TrayExchange, trayExchange } from './tray-exchange.js';
import { edgeShare, type TrayShape } from './tray-geometry.js';

/**
 * Scatter of drying rate over water held between neighbouring blocks of one tray, as the sd of a natural log: pressing,
 * medium and seedling differ (judgement; growers press 5 to 10 % unevenly, roots and draughts come on top). On two virtual
 * greenhouses, written apart, 0.1 had the driest tenth dry a third too late; 0.15 has the gap to the mean block right.
 */
export const BLOCK_LOG_SD = 0.15;
/** Weather at which edge and inner blocks are compared: a mild day by light through cloud. */
const REFERENCE = { temperatureC: 20, vpdKPa: 0.94, solarWPerM2: 120 } as const;
const DRIEST_SHARE = 0.1;
const BISECTIONS = 40;

/** Rate of an outer-ring block over that of the tray's mean block, at reference weather and this air speed. */
export function edgeRateRatio(tray: TrayShape, airSpeedMPerS: number): number {
  const share = edgeShare(tray.blockCount);
  const openSides = Math.min(SIDES, meanOpenSides(tray.blockCount) / share);
  const rate = (exchange: TrayExchange): number =>
    potentialDryingPerH({ exchange, cover: 'none', leafShare: 0 }, REFERENCE);
  return rate(blockExchange(tray, airSpeedMPerS, openSides)) / rate(trayExchange(tray, airSpeedMPerS));
}

/**
 * How much faster the block at the border of the driest tenth dries than the mean block, above 1: the upper decile of
 * a mixture of inner and outer-ring blocks, each log-normal. Compute once per tray.
 */
export function driestTenthRateRatio(
  tray: TrayShape,
  airSpeedMPerS: number,
  blockLogSd = BLOCK_LOG_SD,
): number {
  const share = edgeShare(tray.blockCount);
  const edge = edgeRateRatio(tray, airSpeedMPerS);
  const inner = share < 1 ? (1 - share * edge) / (1 - share) : 1;
  const shareAbove = (logRatio: number): number =>
    share * (1 - normalCdf((logRatio - Math.log(edge)) / blockLogSd)) +
    (1 - share) * (1 - normalCdf((logRatio - Math.log(inner)) / blockLogSd));
  let low = -1;
  let high = 2;
  for (let i = 0; i < BISECTIONS; i++) {
    const middle = (low + high) / 2;
    if (shareAbove(middle) > DRIEST_SHARE) low = middle;
    else high = middle;
  }
  return Math.exp((low + high) / 2);
}

/**
 * Potential drying of the mean block, in the unit of water, until the block at the border of the driest tenth is at `refill`:
 * both were full together, and that block has had `rateRatio` times as much of it. Negative when it was there already.
 */
export function driestTenthPotential(
  meanWaterContent: number,
  refill: number,
  capacity: number,
  rateRatio: number,
  stage: FallingStage,
): number {
  const fromFull = potentialDryingUntil(capacity, refill, stage) / Math.max(1, rateRatio);
  return meanWaterContent > capacity
    ? fromFull + (meanWaterContent - capacity)
    : fromFull - potentialDryingUntil(capacity, meanWaterContent, stage);
}
