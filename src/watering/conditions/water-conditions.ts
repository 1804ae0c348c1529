import { hoursQuantile, type TrayForecast } from '../../drying/tray-forecast.js';
import { type Desk, MS_PER_HOUR } from '../desk.js';
import { memoryOf } from '../desk-state.js';
import { type CoverDoubt, expectedLossShare, moistureIndex, tenthDryWithin } from '../rounds/tray-risk.js';
import { noteDryness, type RewetDoubt, rewetDoubt } from '../trays/rewet-doubt.js';
import type { RegisteredTray } from '../trays/tray-register.js';
import type { Condition } from './condition.js';

/**
 * A special walk is worth this share of a tray. Waiting until it is lost in expectation makes a call that comes late and rarely.
 * Chosen on the trade-off curve, DEVELOPERS.md.
 */
const WALK_COSTS_SHARE = 0.08;
/** Deadband: the alarm stays until the expected loss is this small a part of what raised it. */
const CLEAR_FRACTION = 0.25;
/** Blocks just filled can't take up more: a call comes no earlier than this share of a filled tray's life before its end... */
const EARLIEST_SHARE_OF_LIFE = 0.5;
/** ...but early enough to walk there, hours. */
const TIME_TO_COME_H = 2;
/** A tray that will need its own call before the coming round comes with its bench's, if it can take up this much already. */
const JOIN_RISK = 0.5;
/** Fuller than this, moisture index, a tray has no room for a pour worth walking for. */
const HAS_ROOM_BELOW_INDEX = 0.7;
/** Beside another tray's call less room will do: one walk then serves the bench, and its trays keep in step. */
const JOINS_BELOW_INDEX = 0.85;
/** From a round's hour on somebody walks the benches for this long: what needs water gets it now. */
const WALK_MS = MS_PER_HOUR;
/** Somebody comes soon anyway, or the notice of the coming round lists it: only something much worse is worth a word. */
const SOON_FACTOR = 3;
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
  /** The round that was last; undefined when there was none, or nobody came. */
  readonly lastMs: number | undefined;
  readonly listed: ReadonlySet<string>;
}

export interface WaterConditions {
  readonly refill: Condition;
  readonly dry: Condition;
  /** It needs water before the coming round and can take some now: it comes with a call of its bench. */
  readonly joins: boolean;
}

/** How far ahead a call about this tray looks, hours: the shorter a filled tray lasts now, the later. */
function lookAheadH(forecast: TrayForecast, index: number, callAheadH: number): number {
  const leftH = hoursQuantile(forecast.meanBlockHours, 0.5);
  if (leftH === null || index <= 0) return callAheadH;
  const filledLastsH = leftH / Math.min(1, index);
  return Math.min(callAheadH, Math.max(TIME_TO_COME_H, EARLIEST_SHARE_OF_LIFE * filledLastsH));
}

/** Expected loss when the last watering was perhaps mostly shed: what little was taken up lasts that much shorter. */
function withShedWater(
  forecast: TrayForecast,
  hours: number,
  lossAsTold: number,
  shed: RewetDoubt,
  doubt: CoverDoubt | undefined,
): number {
  const lossIfShed = expectedLossShare(forecast, hours / shed.takenShare, doubt);
  return lossAsTold + shed.probability * (lossIfShed - lossAsTold);
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
  const index = moistureIndex(forecast);
  const aheadH = Math.min(toRoundH, lookAheadH(forecast, index, callAheadH));
  const dryNow = tenthDryWithin(forecast, 0, doubt);
  const ready = memory.readyAtMs !== undefined && outlook.nowMs - memory.readyAtMs < READY_QUIET_MS;

  noteDryness(memory, index, outlook.nowMs);
  const shed = rewetDoubt(memory, outlook.nowMs);
  const lossAsTold = expectedLossShare(forecast, aheadH, doubt);
  const loss = shed === undefined ? lossAsTold : withShedWater(forecast, aheadH, lossAsTold, shed, doubt);
  const walksSoon = outlook.listed.has(tray.id) || toRoundH <= TIME_TO_COME_H;
  const limit = WALK_COSTS_SHARE * (walksSoon ? SOON_FACTOR : 1);
  const beforeRound = tenthDryWithin(forecast, toRoundH, doubt);
  const missed = memory.missedRoundMs !== undefined && beforeRound >= (MISSED_RISK_FACTOR * riskPct) / 100;
  const isDry = dryNow >= DRY_ON;
  const hasRoom = index * (shed?.takenShare ?? 1) <= HAS_ROOM_BELOW_INDEX;
  const isWalked = outlook.lastMs !== undefined && outlook.nowMs - outlook.lastMs < WALK_MS;
  const held = ready || isDry || isWalked;
  const refillOn = (loss >= limit && hasRoom) || missed;
  const refillOff = loss < WALK_COSTS_SHARE * CLEAR_FRACTION && !missed;
  return {
    refill: {
      kind: 'refill',
      of: tray.id,
      raw: held ? 'between' : refillOn ? 'on' : refillOff ? 'off' : 'between',
      reason: missed
        ? 'due-not-watered'
        : lossAsTold < limit && shed !== undefined
          ? 'perhaps-shed-water'
          : 'will-not-reach-round',
      severity: loss,
    },
    dry: {
      kind: 'dry',
      of: tray.id,
      raw: ready ? 'between' : isDry ? 'on' : dryNow < DRY_OFF ? 'off' : 'between',
      reason: 'driest-tenth-at-refill-point',
      severity: expectedLossShare(forecast, 0, doubt),
    },
    joins: !held && index <= JOINS_BELOW_INDEX && beforeRound >= JOIN_RISK,
  };
}
