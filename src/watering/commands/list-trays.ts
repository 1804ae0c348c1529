import { byName } from '../../../shared/base/by-name.js';
import { toInstant } from '../../../shared/base/ids.js';
import type { TrayLine } from '../../../shared/facts/tray-line.js';
import { hoursQuantiles, moistureIndex, type TrayForecast } from '../../drying/model/tray-forecast.js';
import { type Desk, standingTrays } from '../desk/desk.js';
import { lastWateredMs } from '../desk/pour-ledger.js';
import type { RegisteredTray } from '../desk/tray-register.js';
import type { DeskView } from '../desk/watering-desk.js';
import { type CommandOutcome, done } from './outcome.js';

const HUNDREDTHS = 100;

function toHundredths(value: number): number {
  return Math.round(value * HUNDREDTHS) / HUNDREDTHS;
}

/** What is believed of a tray now, from the forecast that the desk has anyway. */
function believed(forecast: TrayForecast | undefined): Partial<TrayLine> {
  if (forecast === undefined) return {};
  const { p10, p50, p90 } = hoursQuantiles(forecast.meanBlockHours);
  const short = (hours: number | null): number | null => (hours === null ? null : toHundredths(hours));
  return {
    moistureIndex: toHundredths(moistureIndex(forecast)),
    hoursToRefill: { p10: short(p10), p50: short(p50), p90: short(p90) },
  };
}

function lineOf(desk: Desk, tray: RegisteredTray, view: DeskView): TrayLine {
  const { id, benchId, blockSideMm, blockCount, crop, medium, cover, sownAtMs, germinatedAtMs } = tray;
  const wateredMs = lastWateredMs(desk.state.memory.get(id)?.pours ?? []);
  return {
    id,
    bench: benchId,
    blockSideMm,
    blockCount,
    ...(crop === undefined ? {} : { crop }),
    ...(medium === undefined ? {} : { medium }),
    cover,
    ...(sownAtMs === undefined ? {} : { sownAt: toInstant(sownAtMs) }),
    ...(germinatedAtMs === undefined ? {} : { germinatedAt: toInstant(germinatedAtMs) }),
    probes: [...desk.state.history.now.probeTray].flatMap(([probe, at]) => (at === id ? [probe] : [])),
    ...(wateredMs === undefined ? {} : { lastWateredAt: toInstant(wateredMs) }),
    ...believed(view.forecasts.get(id)),
  };
}

/** All trays that stand, bench by bench in the farm's order, by name within one; changes nothing. */
export function listTraysCommand(desk: Desk, view: DeskView): CommandOutcome {
  const benches = desk.options.benches.map(({ id }) => id);
  const trays = [...standingTrays(desk)].sort(
    (a, b) => benches.indexOf(a.benchId) - benches.indexOf(b.benchId) || byName(a.id, b.id),
  );
  const perBench = benches.flatMap((bench) => {
    const count = trays.filter(({ benchId }) => benchId === bench).length;
    return count === 0 ? [] : [{ bench, count }];
  });
  return {
    ...done(['traysStanding', perBench], []),
    trays: trays.map((tray) => lineOf(desk, tray, view)),
  };
}
