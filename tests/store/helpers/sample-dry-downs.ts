import type { KeptDryDown } from '../../../src/drying/curves/kept-dry-down.js';
import { HOUR_MS, NOON_MS } from './sample-facts.js';

/** A dry-down that falls from 0.6 m3/m3 along a straight line, sampled every hour. */
export function straightDryDown(
  lastsH: number,
  fallPerH: number,
  more: Partial<KeptDryDown> & { readonly reachedAfterH?: number } = {},
): KeptDryDown {
  const { reachedAfterH, ...rest } = more;
  const startedAtMs = rest.startedAtMs ?? NOON_MS;
  const at = (elapsedH: number) => ({ elapsedH, waterContentM3PerM3: 0.6 - fallPerH * elapsedH });
  return {
    trayId: 't1',
    benchId: 'south',
    blockSideMm: 19,
    blockCount: 280,
    crop: 'celery',
    startWaterContentM3PerM3: 0.6,
    endWaterContentM3PerM3: 0.6 - fallPerH * lastsH,
    hasProbe: true,
    samples: [...Array.from({ length: Math.ceil(lastsH) }, (_, hour) => at(hour)), at(lastsH)],
    ...(reachedAfterH === undefined ? {} : { refillReachedAtMs: startedAtMs + reachedAfterH * HOUR_MS }),
    ...rest,
    startedAtMs,
    endedAtMs: startedAtMs + lastsH * HOUR_MS,
  };
}
