import { toInstant } from '../../../shared/base/ids.js';
import { MS_PER_HOUR, MS_PER_MIN } from '../../../shared/base/time-units.js';
import { FORECAST_HORIZON_H, type HoursQuantiles } from '../../../shared/facts/forecast.js';
import type { RoundNotice } from '../../../shared/facts/round-notice.js';
import {
  hoursQuantile,
  hoursQuantiles,
  TENTHS,
  type TrayForecast,
} from '../../drying/model/tray-forecast.js';
import { type Desk, standingTrays } from '../desk/desk.js';
import { memoryOf } from '../desk/desk-state.js';
import type { RegisteredTray } from '../desk/tray-register.js';
import type { DeskEffect, DeskView } from '../desk/watering-desk.js';
import type { SaidTray } from '../sentences/said/desk-sentences.js';
import type { ToldNotice } from '../sentences/said/told.js';
import { coverDoubt } from '../trays/cover-doubt.js';
import { missingWaterMl } from '../trays/dose.js';
import { comingRounds } from './coming-rounds.js';
import { canWaitUntil } from './due-rule.js';
import { saidTray } from './said-tray.js';

/** Rounds that are looked through for the one until which a tray can wait. */
const ROUNDS_AHEAD = 14;
const REMEMBERED_ROUNDS = 4;

interface DueTray {
  readonly said: SaidTray;
  readonly forecast: TrayForecast;
  /** Middle and early end of the driest tenth's hours: the order of urgency. */
  readonly middleH: number;
  readonly earlyH: number;
}

function dueTray(
  desk: Desk,
  tray: RegisteredTray,
  forecast: TrayForecast,
  nowMs: number,
  roundMs: number,
): DueTray {
  return {
    said: saidTray(desk, tray, forecast, nowMs, roundMs),
    forecast,
    middleH: hoursQuantile(forecast.driestTenthHours, TENTHS.p50) ?? Number.POSITIVE_INFINITY,
    earlyH: hoursQuantile(forecast.driestTenthHours, TENTHS.p10) ?? Number.POSITIVE_INFINITY,
  };
}

/** Hours to the hundredth, as forecasts are told. */
function toldHours(sortedHours: Float64Array): HoursQuantiles {
  const { p10, p50, p90 } = hoursQuantiles(sortedHours);
  const told = (hours: number | null): number | null =>
    hours === null ? null : Math.round(hours * 100) / 100;
  return { p10: told(p10), p50: told(p50), p90: told(p90) };
}

const difference = (a: number, b: number): number => (a === b ? 0 : a - b);

function byUrgency(a: DueTray, b: DueTray): number {
  return (
    difference(a.middleH, b.middleH) || difference(a.earlyH, b.earlyH) || (a.said.id < b.said.id ? -1 : 1)
  );
}

function dueLine({ said, forecast }: DueTray): RoundNotice['due'][number] {
  return {
    tray: said.id,
    doseMl: said.doseMl ?? 0,
    bench: said.benchId,
    ...(said.crop === undefined ? {} : { crop: said.crop }),
    blockSideMm: said.blockSideMm,
    hoursToRefill: toldHours(forecast.meanBlockHours),
    ...(said.pourPlan === undefined ? {} : { pourPlan: said.pourPlan }),
    ...(said.dryAtMs === undefined
      ? {}
      : { dryAt: toInstant(Math.round(said.dryAtMs / MS_PER_MIN) * MS_PER_MIN) }),
    ...(said.perhapsWatered === true ? { perhapsWatered: true } : {}),
  };
}

/** The rounds about which a forecast can say anything, and the one after them; two at least. */
function foreseen(rounds: readonly number[], nowMs: number): readonly number[] {
  const horizonMs = nowMs + FORECAST_HORIZON_H * MS_PER_HOUR;
  return rounds.filter((_, index) => index < 2 || (rounds[index - 1] ?? nowMs) <= horizonMs);
}

/** The notice of one round: what to water, most urgent first, and what can wait until when. Remembers what was listed. */
export function writeNotice(desk: Desk, roundMs: number, view: DeskView): readonly DeskEffect[] {
  const { nowMs } = view;
  const { riskPct, coverDoubtedAfterDays } = desk.options.notices;
  const away = desk.state.awayUntilMs;
  const rounds = foreseen([roundMs, ...comingRounds(desk, view, roundMs, ROUNDS_AHEAD)], nowMs);
  const due: DueTray[] = [];
  const waiting: { trayId: string; untilRoundMs: number; forecast: TrayForecast }[] = [];
  for (const tray of standingTrays(desk)) {
    const forecast = view.forecasts.get(tray.id);
    if (forecast === undefined) continue;
    const doubt = coverDoubt(tray, forecast.basis === 'probe', coverDoubtedAfterDays, nowMs);
    const until = canWaitUntil(forecast, rounds, nowMs, riskPct, doubt);
    if (until === undefined) due.push(dueTray(desk, tray, forecast, nowMs, roundMs));
    else waiting.push({ trayId: tray.id, untilRoundMs: until, forecast });
    const untilPourH = Math.max(0, (roundMs - nowMs) / MS_PER_HOUR);
    memoryOf(desk.state, tray.id).missingMlAtNotice = {
      atMs: nowMs,
      ml: missingWaterMl(tray, forecast, untilPourH, 1),
    };
  }
  due.sort(byUrgency);
  const awayUntilMs = away !== undefined && away > roundMs ? away : undefined;
  const notice: ToldNotice = {
    at: toInstant(nowMs),
    round: toInstant(roundMs),
    due: due.map(dueLine),
    canWait: waiting.map(({ trayId, untilRoundMs, forecast }) => ({
      tray: trayId,
      untilRound: toInstant(untilRoundMs),
      hoursToRefill: toldHours(forecast.meanBlockHours),
    })),
    ...(awayUntilMs === undefined ? {} : { awayUntil: toInstant(awayUntilMs) }),
    said: { nowMs, ...(standingTrays(desk).length === 0 ? { isWithoutTrays: true } : {}) },
  };
  desk.state.notice = notice;
  desk.state.rounds = [
    ...desk.state.rounds.filter((round) => round.roundMs !== roundMs),
    {
      roundMs,
      noticeAtMs: nowMs,
      due: due.map(({ said }) => said.id),
      skipped: awayUntilMs !== undefined,
      settled: false,
    },
  ].slice(-REMEMBERED_ROUNDS);
  return [{ kind: 'round-notice', notice }];
}
