import type { Farm } from '../filter/farm-state.js';
import { LINK, LOCAL } from '../filter/layout.js';
import { meanLocal, type TrayState } from '../filter/tray-state.js';
import type { Supposition } from '../model/supposition.js';
import type { TrayForecast } from '../model/tray-forecast.js';
import { forecastAhead, lookAhead, outlookOfTray } from './forecast-tray.js';
import { outlookEnd } from './outlook-end.js';

/** Natural logs by which the model's drying by air and by sun are multiplied. */
interface LogFactors {
  readonly air: number;
  readonly sun: number;
}

const AS_BELIEVED: LogFactors = { air: 0, sun: 0 };

/** The forecast of a tray under a supposition; nothing is kept of it. */
export function forecastIf(farm: Farm, tray: TrayState, supposed: Supposition, atMs: number): TrayForecast {
  const outlook = outlookOfTray(farm, tray, atMs);
  const under = (one: TrayState, weather = outlook, times = AS_BELIEVED): TrayForecast => {
    const ahead = lookAhead(farm, one, weather, atMs);
    const { airFactor, sunFactor } = ahead.sampled;
    const sampled = {
      ...ahead.sampled,
      airFactor: airFactor.map((factor) => factor * Math.exp(times.air)),
      sunFactor: sunFactor.map((factor) => factor * Math.exp(times.sun)),
    };
    return forecastAhead(farm, one, { ...ahead, sampled }, weather, atMs);
  };
  switch (supposed.what) {
    case 'as-it-is':
      return under(tray);
    case 'sunny':
      return under(tray, outlookEnd(outlook, 'solarWPerM2', 'most'));
    case 'dull':
      return under(tray, outlookEnd(outlook, 'solarWPerM2', 'least'));
    case 'dry-air':
      return under(tray, outlookEnd(outlook, 'vpdKPa', 'most'));
    case 'damp-air':
      return under(tray, outlookEnd(outlook, 'vpdKPa', 'least'));
    case 'cover':
      return under({ ...tray, cover: supposed.cover });
    case 'tray-unlearned': {
      const rate = meanLocal(tray, LOCAL.rate);
      return under(tray, outlook, { air: -rate, sun: -rate });
    }
    case 'farm-unlearned':
      return under(tray, outlook, farmUnlearned(farm, tray));
  }
}

/** Takes out what size, bench and farm have taught of how fast trays dry. */
function farmUnlearned(farm: Farm, tray: TrayState): LogFactors {
  const learned = (link: number): number => farm.memory.shared.meanOf(tray.links[link] ?? 0);
  const rate = learned(LINK.farmRate) + learned(LINK.sizeRate) + learned(LINK.sizeSlope) * tray.logSide;
  return { air: -rate - learned(LINK.benchAir), sun: -rate - learned(LINK.benchSun) };
}
