import { expect, it } from 'vitest';
import { forecastSchema } from '../../shared/facts/forecast.js';
import type { TrayForecast } from '../../src/drying/model/tray-forecast.js';
import { forecastFact } from '../../src/monitor/day/core/forecast-book.js';

it('a forecast goes out with the levels that its hours count to', () => {
  const forecast: TrayForecast = {
    trayId: 't1',
    atMs: Date.parse('2026-04-18T12:00:00Z'),
    waterContentM3PerM3: 0.51239,
    waterContentSdM3PerM3: 0.02,
    containerCapacityM3PerM3: 0.61284,
    refillPointM3PerM3: 0.30551,
    meanBlockHours: Float64Array.from([6, 8, 10]),
    driestTenthHours: Float64Array.from([4, 5, 7]),
    fallByHour: Float64Array.from([0, 0.02]),
    basis: 'probe',
  };
  expect(forecastSchema.parse(forecastFact(forecast, []))).toMatchObject({
    waterContentM3PerM3: 0.5124,
    containerCapacityM3PerM3: 0.6128,
    refillPointM3PerM3: 0.3055,
  });
});
