import { MS_PER_HOUR, MS_PER_MIN } from '../../../shared/base/time-units.js';
import { hoursQuantile, moistureIndex, TENTHS, type TrayForecast } from '../../drying/model/tray-forecast.js';
import type { RawCondition } from '../desk/alarm-record.js';
import type { Desk } from '../desk/desk.js';
import { memoryOf, type TrayMemory } from '../desk/desk-state.js';
import { lastWateredMs } from '../desk/pour-ledger.js';
import type { Shortfall } from '../desk/shortfall.js';
import type { RegisteredTray } from '../desk/tray-register.js';
import { expectedLossShare, farTooEarly, MOST_LOSS_SHARE, tenthDryWithin } from '../trays/tray-risk.js';
import type { Condition } from './condition.js';
import { isSeenTo, ON_THE_WAY_MS, type RoundOutlook } from './round-outlook.js';

/**
 * A special walk is worth this share of a tray. Waiting until it is lost in expectation makes a call that comes late and rarely.
 * Chosen on the trade-off curve, DEVELOPERS.md.
 */
const WALK_COSTS_SHARE = 0.08;
/** Getting up at night costs more than leaving the field. */
const NIGHT_FACTOR = 3;
/** Somebody comes soon anyway, or the notice of the coming round lists it: only something much worse is worth a word. */
const SOON_FACTOR = 3;
/** Perhaps it was watered at the last round, and the grower, who may have been asked, knows better than the model. */
const PERHAPS_FACTOR = 1.5;
/** How much more must be at stake as it becomes certain that the call would be far too early; as in the due rule. */
const EARLY_WEIGHT = 5;
/** Deadband: the alarm stays until the expected loss is this small a part of what raised it. */
const CLEAR_FRACTION = 0.25;
/** Blocks just filled can't take up more: a call comes no earlier than this share of a filled tray's life before its end... */
const EARLIEST_SHARE_OF_LIFE = 0.5;
/** ...but early enough to walk there, hours. */
const TIME_TO_COME_H = 2;
/**
 * A tray that may need its own call before the coming round comes with the call of another: one walk serves all. The risk asked
 * for grows as it becomes certain that the pour would be far too early.
 */
const JOIN_RISK = 0.2;
const JOIN_EARLY_WEIGHT = 1;
/** Fuller than this, moisture index, a tray has no room for a pour worth walking for; less will do once somebody is there. */
const HAS_ROOM_BELOW_INDEX = 0.7;
const JOINS_BELOW_INDEX = 0.85;
/** From so surely a shortfall on the room in the tray is judged by it. */
const ROOM_BY_SHORTFALL = 0.15;
/** What was poured soaks in for this long: sooner nobody can see whether the blocks have shed it. */
const SOAKED_MS = 20 * MS_PER_MIN;
/**
 * While a probe shows that blocks drink nobody is called for this long from the pour. To wait until the rise is over
 * (up to two hours) would be too late for those that shed it. Chosen on the trade-off curve, DEVELOPERS.md.
 */
const RISING_MS = 45 * MS_PER_MIN;
/** From a round's hour on somebody walks the benches for this long: what needs water gets it now... */
const WALK_MS = MS_PER_HOUR;
/** ...but what they have watered and what has so surely shed it is told while they are there. */
const SHED_SURELY = 0.3;
/** The grower stands before the tray and has said so. */
const READY_QUIET_MS = 2 * MS_PER_HOUR;
/** Chance that the driest tenth is dry; nearer to certainty where the mean block would last for more than a day. */
const DRY_ON = 0.5;
const DRY_EARLY_WEIGHT = 2;
const DRY_SURELY = 0.95;
const DRY_OFF = 0.25;

export interface WaterConditions {
  readonly refill: Condition;
  readonly dry: Condition;
  /** It may need water before the coming round and can take some now: it comes with the call of another. */
  readonly joins: boolean;
}

/** How far ahead a call about this tray looks, hours: the shorter a filled tray lasts now, the later. */
function lookAheadH(forecast: TrayForecast, index: number, callAheadH: number): number {
  const leftH = hoursQuantile(forecast.meanBlockHours, TENTHS.p50);
  if (leftH === null || index <= 0) return callAheadH;
  const filledLastsH = leftH / Math.min(1, index);
  return Math.min(callAheadH, Math.max(TIME_TO_COME_H, EARLIEST_SHARE_OF_LIFE * filledLastsH));
}

/** Expected loss when the tray perhaps holds less than the model says: what little there is lasts that much shorter. */
function withShortfall(
  forecast: TrayForecast,
  index: number,
  hours: number,
  lossAsHeld: number,
  shortfall: Shortfall,
  coverDoubt: number,
): number {
  const lossIfShort =
    shortfall.index <= 0
      ? MOST_LOSS_SHARE
      : expectedLossShare(forecast, (hours * index) / shortfall.index, coverDoubt);
  return lossAsHeld + shortfall.probability * Math.max(0, lossIfShort - lossAsHeld);
}

/** What must be at stake for a call, as a share of the tray. */
function worthACall(desk: Desk, tray: RegisteredTray, tooEarly: number, outlook: RoundOutlook): number {
  const memory = memoryOf(desk.state, tray.id);
  const toRoundH = (outlook.comingMs - outlook.nowMs) / MS_PER_HOUR;
  const walksSoon = outlook.listed.has(tray.id) || toRoundH <= TIME_TO_COME_H;
  const asHeld = 1 - (memory.shortfall?.probability ?? 0);
  return (
    WALK_COSTS_SHARE *
    (walksSoon ? SOON_FACTOR : 1) *
    (outlook.isNight ? NIGHT_FACTOR : 1) *
    (memory.perhaps === undefined ? 1 : PERHAPS_FACTOR) *
    (1 + EARLY_WEIGHT * tooEarly * asHeld)
  );
}

/** Somebody walks the benches, and has not been at this tray or has no reason to look at it again. */
function isWalked(memory: TrayMemory, pouredAtMs: number, { nowMs, lastMs }: RoundOutlook): boolean {
  if (lastMs === undefined || nowMs - lastMs >= WALK_MS) return false;
  const wasThere = pouredAtMs >= lastMs - ON_THE_WAY_MS;
  return !(wasThere && (memory.shortfall?.probability ?? 0) >= SHED_SURELY);
}

/** Water has just been poured, or a probe shows that it is being taken up: how much the tray gets is not known yet. */
function isSoaking(memory: TrayMemory, pouredAtMs: number, nowMs: number): boolean {
  const { rising } = memory;
  const isRising = rising !== undefined && nowMs - rising.sinceMs < RISING_MS;
  return isRising || nowMs - pouredAtMs < SOAKED_MS;
}

/** What a rule comes to; `soaking`: water that was just poured may still help. */
function rawOf(on: boolean, off: boolean, soaking: boolean): RawCondition {
  if (on) return soaking ? 'coming' : 'on';
  return off && !soaking ? 'off' : 'between';
}

/** Rules `refill` and `dry` for one tray. */
export function waterConditions(
  desk: Desk,
  tray: RegisteredTray,
  forecast: TrayForecast,
  outlook: RoundOutlook,
  coverDoubt: number,
): WaterConditions {
  const memory = memoryOf(desk.state, tray.id);
  const { riskPct, callAheadH } = desk.options.notices;
  const toRoundH = Math.max(0, (outlook.comingMs - outlook.nowMs) / MS_PER_HOUR);
  const index = moistureIndex(forecast);
  const aheadH = Math.min(toRoundH, lookAheadH(forecast, index, callAheadH));
  const tooEarly = farTooEarly(
    forecast,
    (outlook.afterComingMs - outlook.nowMs) / MS_PER_HOUR,
    0,
    coverDoubt,
  );
  const dryNow = tenthDryWithin(forecast, 0, coverDoubt);
  const ready = memory.readyAtMs !== undefined && outlook.nowMs - memory.readyAtMs < READY_QUIET_MS;

  const { shortfall } = memory;
  const lossAsHeld = expectedLossShare(forecast, aheadH, coverDoubt);
  const loss =
    shortfall === undefined
      ? lossAsHeld
      : withShortfall(forecast, index, aheadH, lossAsHeld, shortfall, coverDoubt);
  const limit = worthACall(desk, tray, tooEarly, outlook);
  const beforeRound = tenthDryWithin(forecast, toRoundH, coverDoubt);
  const missed = memory.missedRoundMs !== undefined && beforeRound >= riskPct / 100;
  const isDry = dryNow >= Math.min(DRY_SURELY, DRY_ON * (1 + DRY_EARLY_WEIGHT * tooEarly));
  const isShort = shortfall !== undefined && shortfall.probability >= ROOM_BY_SHORTFALL;
  const hasRoom = (isShort ? Math.min(index, shortfall.index) : index) <= HAS_ROOM_BELOW_INDEX;
  const pouredAtMs = lastWateredMs(memory.pours) ?? Number.NEGATIVE_INFINITY;
  const soaking = isSoaking(memory, pouredAtMs, outlook.nowMs);
  const isHandled = ready || isSeenTo(tray.id, memory, outlook.round);
  const held = isHandled || isDry || isWalked(memory, pouredAtMs, outlook);
  const refillOn = (loss >= limit && hasRoom) || missed;
  const refillOff = loss < WALK_COSTS_SHARE * CLEAR_FRACTION && !missed;
  const joinRisk =
    JOIN_RISK * (memory.perhaps === undefined ? 1 : PERHAPS_FACTOR) * (1 + JOIN_EARLY_WEIGHT * tooEarly);
  return {
    refill: {
      kind: 'refill',
      of: tray.id,
      raw: held ? 'between' : rawOf(refillOn, refillOff, soaking),
      reason: missed
        ? 'due-not-watered'
        : lossAsHeld < limit && shortfall !== undefined
          ? 'perhaps-shed-water'
          : 'will-not-reach-round',
      severity: loss,
    },
    dry: {
      kind: 'dry',
      of: tray.id,
      raw: isHandled ? 'between' : rawOf(isDry, dryNow < DRY_OFF, soaking),
      reason: 'driest-tenth-at-refill-point',
      severity: expectedLossShare(forecast, 0, coverDoubt),
    },
    joins: !held && !soaking && index <= JOINS_BELOW_INDEX && beforeRound >= joinRisk,
  };
}
