import { toInstant } from '../../../shared/base/ids.js';
import type { DryDown } from '../../drying/model/farm-model.js';

const round = (value: number | undefined, digits: number): number | undefined =>
  value === undefined ? undefined : Number(value.toFixed(digits));

/** A dry-down as a line of dry-downs.jsonl: instants in RFC 3339, numbers at the precision they deserve. */
export function dryDownLine(dryDown: DryDown): Record<string, unknown> {
  const { startedAtMs, endedAtMs, refillReachedAtMs, trayId, ...rest } = dryDown;
  return {
    tray: trayId,
    startedAt: toInstant(startedAtMs),
    endedAt: toInstant(endedAtMs),
    refillReachedAt: refillReachedAtMs === undefined ? undefined : toInstant(refillReachedAtMs),
    startWaterContentM3PerM3: round(rest.startWaterContentM3PerM3, 4),
    endWaterContentM3PerM3: round(rest.endWaterContentM3PerM3, 4),
    refillPointM3PerM3: round(rest.refillPointM3PerM3, 4),
    meanTemperatureC: round(rest.meanTemperatureC, 2),
    meanVpdKPa: round(rest.meanVpdKPa, 3),
    meanSolarWPerM2: round(rest.meanSolarWPerM2, 1),
    hasProbe: rest.hasProbe,
  };
}
