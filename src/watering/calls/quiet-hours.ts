import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { AlarmRecord } from '../desk/alarm-record.js';
import { type Desk, standingTray, standingTrays } from '../desk/desk.js';
import type { DeskView } from '../desk/watering-desk.js';
import { coverDoubt } from '../trays/cover-doubt.js';
import { tenthDryWithin } from '../trays/tray-risk.js';

/** Who is called at the end of the quiet hours needs this long to be at the bench, hours. Judgement. */
const TIME_TO_COME_H = 1;
/** Refill calls that rest on the forecast alone; any other has a reason that the forecast does not know. */
const saidByForecast: ReadonlySet<string> = new Set(['will-not-reach-round', 'due-not-watered']);

/** True when the tray's driest tenth lasts, at the configured risk, until somebody called at `untilMs` has come. */
function lasts(desk: Desk, view: DeskView, trayId: string, untilMs: number): boolean {
  const tray = standingTray(desk, trayId);
  const forecast = view.forecasts.get(trayId);
  if (tray === undefined || forecast === undefined) return false;
  const { riskPct, coverDoubtedAfterDays } = desk.options.notices;
  const doubt = coverDoubt(tray, forecast.basis === 'probe', coverDoubtedAfterDays, view.nowMs);
  const hours = (untilMs - view.nowMs) / MS_PER_HOUR + TIME_TO_COME_H;
  return tenthDryWithin(forecast, hours, doubt) < riskPct / 100;
}

/**
 * True when a call about this alarm can wait until the quiet hours are over: no seedling is lost before. A dry tray, frost or
 * heat never wait; a refill does when its tray lasts; a blind watchman or a board when every tray does. Outside quiet hours
 * nothing waits.
 */
export function waitsForQuiet(desk: Desk, view: DeskView, record: AlarmRecord): boolean {
  const { quietUntilMs } = view;
  if (quietUntilMs === undefined) return false;
  switch (record.kind) {
    case 'dry':
    case 'temperature':
      return false;
    case 'refill':
      return saidByForecast.has(record.reason) && lasts(desk, view, record.of, quietUntilMs);
    case 'monitor':
    case 'board':
      return standingTrays(desk).every((tray) => lasts(desk, view, tray.id, quietUntilMs));
    case 'wet':
    case 'cover':
    case 'probe':
    case 'store':
    case 'broker':
      return true;
  }
}
