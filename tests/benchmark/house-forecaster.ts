import { toInstant } from '../../shared/base/ids.js';
import type { FarmConfig } from '../../shared/config/farm.js';
import type { HoursQuantiles } from '../../shared/facts/forecast.js';
import { trayEventSchema } from '../../shared/facts/tray-life.js';
import { createFarmParts } from '../../src/cli/running/house-parts/farm-parts.js';
import type { ClimateOutlook } from '../../src/drying/model/farm-model.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import { startEvents } from '../../src/monitor/start/start-events.js';
import { capped, type Forecaster, HORIZON_H, type HoursTriple } from './forecaster.js';

/** The whole house under test: the pipeline that replay runs, fed with the same rows as the yardsticks. */
export interface HouseForecaster extends Forecaster {
  /** Facts other than readings and forecasts since the last call. */
  takeFacts(): Fact[];
}

function tripleOf({ p10, p50, p90 }: HoursQuantiles): HoursTriple {
  return { p10: capped(p10 ?? HORIZON_H), p50: capped(p50 ?? HORIZON_H), p90: capped(p90 ?? HORIZON_H) };
}

/**
 * @param startMs first instant of the recording; the configuration's trays come into the house then
 * @param outlook the weather to come, handed in: a reference that isolates the model from the weather
 */
export function createHouseForecaster(
  config: FarmConfig,
  startMs: number,
  outlook?: ClimateOutlook,
): HouseForecaster {
  const { pipeline } = createFarmParts(config, {
    startMs,
    drive: 'replay',
    ...(outlook === undefined ? {} : { outlook }),
  });
  for (const event of startEvents(config, startMs)) pipeline.trayEvent(event, startMs);
  const latest = new Map<string, HoursTriple>();
  let others: Fact[] = [];
  let movedToMs = startMs - 1;

  const take = (): void => {
    for (const fact of pipeline.takeFacts()) {
      if (fact.kind === 'forecast') latest.set(fact.forecast.tray, tripleOf(fact.forecast.hoursToRefill));
      else others.push(fact);
    }
  };
  const moveTo = (atMs: number): void => {
    if (atMs > movedToMs) pipeline.advanceTo(atMs - 1);
    movedToMs = Math.max(movedToMs, atMs);
  };

  return {
    name: outlook === undefined ? 'DRYBELL' : 'true weather',
    reading: (probeId, atMs, value) => {
      moveTo(atMs);
      pipeline.sample({ probeId, observedAtMs: atMs, rawValue: value });
    },
    event: (row) => {
      moveTo(row.atMs);
      const { atMs, ...event } = row;
      pipeline.trayEvent(trayEventSchema.parse({ at: toInstant(atMs), ...event }), atMs);
    },
    advance: (toMs) => {
      moveTo(toMs);
      pipeline.advanceTo(toMs);
      take();
    },
    forecast: (trayId) => latest.get(trayId) ?? { p10: 0, p50: HORIZON_H, p90: HORIZON_H },
    takeFacts: () => {
      const facts = others;
      others = [];
      return facts;
    },
  };
}
