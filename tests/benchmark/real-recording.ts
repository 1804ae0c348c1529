import { readFileSync } from 'node:fs';
import { farmConfigSchema } from '../../shared/config/farm.js';
import { readReadings } from '../../src/worlds/replay/read-readings.js';
import { table } from '../bench/measurement.js';
import { type Forecaster, HORIZON_H, type HoursTriple } from './forecaster.js';
import { createHouseForecaster } from './house-forecaster.js';
import { recordedDryDowns } from './real-dry-downs.js';
import { playScenario, WARM_UP_DAYS } from './run-scenario.js';
import { coverage, meanPinballH, type ScoredForecast } from './score.js';
import { createNapkinForecaster } from './yardsticks/napkin-forecaster.js';

const HOUR_MS = 3_600_000;

function cut({ p10, p50, p90 }: HoursTriple, endH: number): HoursTriple {
  return { p10: Math.min(p10, endH), p50: Math.min(p50, endH), p90: Math.min(p90, endH) };
}

/**
 * The house and the four rules on a real recording in replay's form, as a table. Most dry-downs end by a watering before
 * the refill point is crossed: truth and forecast are both cut at the end of the dry-down, so that slow ones count too.
 */
export async function realRecordingTable(configFile: string, readingsFile: string): Promise<string> {
  const config = farmConfigSchema.parse(JSON.parse(readFileSync(configFile, 'utf8')));
  const readings = await readReadings(
    readingsFile,
    config.probes.map(({ id }) => id),
    ({ row, reason }) => console.error(`row ${row}: ${reason}`),
  );
  const startMs = readings.atMs[0] ?? 0;
  const endMs = readings.atMs[readings.count - 1] ?? 0;
  const dryDowns = new Map(
    config.trays.map((tray) => {
      const probe = config.probes.find((one) => one.kind === 'block-moisture' && one.tray === tray.id);
      const refill = tray.refillPointM3PerM3;
      return [
        tray.id,
        probe === undefined || refill === undefined ? [] : recordedDryDowns(probe, readings, refill),
      ];
    }),
  );
  const forecasters: Forecaster[] = [
    createHouseForecaster(config, startMs),
    ...(['HABIT', 'LINE', 'VPD', 'ANALOG'] as const).map((name) =>
      createNapkinForecaster(name, config, startMs),
    ),
  ];
  const rows = new Map<string, { readonly row: ScoredForecast; readonly crossed: boolean }[]>(
    forecasters.map(({ name }) => [name, []]),
  );
  playScenario({ readings, log: [], startMs, endMs }, forecasters, (atMs) => {
    if (atMs < startMs + WARM_UP_DAYS * 24 * HOUR_MS) return;
    for (const tray of config.trays) {
      const now = dryDowns.get(tray.id)?.find((one) => atMs >= one.fromMs && atMs <= one.endMs - HOUR_MS);
      if (now === undefined || (now.crossedMs !== undefined && now.crossedMs <= atMs)) continue;
      const endH = Math.min(HORIZON_H, (now.endMs - atMs) / HOUR_MS);
      const truthH = now.crossedMs === undefined ? endH : Math.min(endH, (now.crossedMs - atMs) / HOUR_MS);
      for (const forecaster of forecasters)
        rows.get(forecaster.name)?.push({
          crossed: now.crossedMs !== undefined,
          row: {
            kind: 'real',
            blockSideMm: tray.blockSideMm,
            probed: true,
            benchDryDowns: 0,
            forecast: cut(forecaster.forecast(tray.id, atMs), endH),
            truthH,
          },
        });
    }
  });
  const all = [...dryDowns.values()].flat();
  const counted = `${all.length} dry-downs, ${all.filter(({ crossedMs }) => crossedMs !== undefined).length} came down to the refill point`;
  const lines = [['', 'forecasts', 'pinball, h (cut)', 'of those that crossed', 'inside p10-p90, crossed']];
  for (const [name, list] of rows) {
    const crossed = list.filter((one) => one.crossed).map((one) => one.row);
    lines.push([
      name,
      String(list.length),
      meanPinballH(list.map((one) => one.row)).toFixed(2),
      meanPinballH(crossed).toFixed(2),
      `${(100 * coverage(crossed)).toFixed(0)} %`,
    ]);
  }
  return `${counted}\n${table(lines)}`;
}
