import type { TrayForecast } from '../../drying/tray-forecast.js';
import { type Desk, MS_PER_HOUR } from '../desk.js';
import { memoryOf } from '../desk-state.js';
import { type CoverDoubt, expectedLossShare, tenthDryWithin } from '../rounds/tray-risk.js';
import type { RegisteredTray } from '../trays/tray-register.js';
import type { Condition } from './condition.js';

/**
 * A special walk is worth this share of a tray. Waiting until it is lost in expectation makes a call that comes late and rarely.
 * Chosen on the trade-off curve, DEVELOPERS.md.
 */
const WALK_COSTS_SHARE = 0.08;
/** Deadband: the alarm stays until the expected loss is this small a part of what raised it. */
const CLEAR_FRACTION = 0.25;
/** The notice of the coming round lists it: only something much worse is worth a second word. */
const LISTED_FACTOR = 3;
/** A tray that was due and was not watered is called when its risk up to the coming round is this much above the configured one. */
const MISSED_RISK_FACTOR = 2;
/** The grower stands before the tray and has said so. */
const READY_QUIET_MS = 2 * MS_PER_HOUR;
const DRY_ON = 0.5;
const DRY_OFF = 0.25;

/** When the rounds are, and whether the notice of the coming one is out. */
export interface RoundOutlook {
  readonly nowMs: number;
  readonly comingMs: number;
  readonly listed: ReadonlySet<string>;
}

export interface WaterConditions {
  readonly refill: Condition;
  readonly dry: Condition;
  /** Share of the way to its own refill call, 1 and more when there; 0 when it may not come with another tray's. */
  readonly nearness: number;
}

/** Rules `refill` and `dry` for one tray. */
export function waterConditions(
  desk: Desk,
  tray: RegisteredTray,
  forecast: TrayForecast,
  outlook: RoundOutlook,
  doubt: CoverDoubt | undefined,
): WaterConditions {
  const memory = memoryOf(desk.state, tray.id);
  const { riskPct, callAheadH } = desk.options.notices;
  const toRoundH = Math.max(0, (outlook.comingMs - outlook.nowMs) / MS_PER_HOUR);
  const aheadH = Math.min(toRoundH, callAheadH);
  const dryNow = tenthDryWithin(forecast, 0, doubt);
  const ready = memory.readyAtMs !== undefined && outlook.nowMs - memory.readyAtMs < READY_QUIET_MS;

  const loss = expectedLossShare(forecast, aheadH, doubt);
  const limit = WALK_COSTS_SHARE * (outlook.listed.has(tray.id) ? LISTED_FACTOR : 1);
  const missed =
    memory.missedRoundMs !== undefined &&
    tenthDryWithin(forecast, toRoundH, doubt) >= (MISSED_RISK_FACTOR * riskPct) / 100;
  const isDry = dryNow >= DRY_ON;
  const refillOn = loss >= limit || missed;
  const refillOff = loss < WALK_COSTS_SHARE * CLEAR_FRACTION && !missed;
  return {
    refill: {
      kind: 'refill',
      of: tray.id,
      raw: ready || isDry ? 'between' : refillOn ? 'on' : refillOff ? 'off' : 'between',
      reason: missed ? 'due-not-watered' : 'will-not-reach-round',
      severity: loss,
    },
    dry: {
      kind: 'dry',
      of: tray.id,
      raw: ready ? 'between' : isDry ? 'on' : dryNow < DRY_OFF ? 'off' : 'between',
      reason: 'driest-tenth-at-refill-point',
      severity: expectedLossShare(forecast, 0, doubt),
    },
    nearness: ready || isDry ? 0 : loss / limit,
  };
}
