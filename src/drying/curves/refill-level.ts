import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import { quantile } from '../../numbers/quantile.js';
import { TENTHS } from '../model/tray-forecast.js';
import type { KeptDryDown } from './kept-dry-down.js';

/**
 * Where the refill line of some dry-downs lies, m3/m3: the median of the refill points that they were kept with; of those kept
 * without one, of what the curve read when it was reached. Undefined where neither is known.
 */
export function refillLevel(dryDowns: readonly KeptDryDown[]): number | undefined {
  const levels = dryDowns.flatMap((one) => one.refillPointM3PerM3 ?? curveAtRefill(one) ?? []);
  return levels.length === 0 ? undefined : quantile(levels, TENTHS.p50);
}

function curveAtRefill({ samples, startedAtMs, refillReachedAtMs }: KeptDryDown): number | undefined {
  if (refillReachedAtMs === undefined) return undefined;
  const reachedAfterH = (refillReachedAtMs - startedAtMs) / MS_PER_HOUR;
  const next = samples.findIndex(({ elapsedH }) => elapsedH >= reachedAfterH);
  const [before, after] = [samples[next - 1], samples[next]];
  if (after === undefined) return undefined;
  if (before === undefined) return after.waterContentM3PerM3;
  const share = (reachedAfterH - before.elapsedH) / (after.elapsedH - before.elapsedH);
  return before.waterContentM3PerM3 + share * (after.waterContentM3PerM3 - before.waterContentM3PerM3);
}
