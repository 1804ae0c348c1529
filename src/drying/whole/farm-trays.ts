import { benchOf, type Farm, linksOf } from '../filter/farm-state.js';
import { LINK, LINK_COUNT } from '../filter/layout.js';
import { exchangeOf, type TrayState } from '../filter/tray-state.js';

const BENCH_LINKS = [LINK.benchAir, LINK.benchSun, LINK.benchCloud, LINK.benchLean] as const;

/** Hangs a tray on another bench: what its state owed to the old bench's factors becomes its own uncertainty. */
export function moveTray(farm: Farm, tray: TrayState, benchId: string): void {
  if (tray.benchId === benchId) return;
  const { shared } = farm.memory;
  const links = linksOf(farm, benchId, tray.spec.blockSideMm);
  for (const belief of tray.beliefs) {
    const n = belief.mean.length;
    for (const link of BENCH_LINKS) {
      const variance = shared.varianceOf(tray.links[link] ?? 0);
      for (let i = 0; i < n; i++)
        for (let j = 0; j < n; j++)
          belief.covariance[i * n + j] =
            (belief.covariance[i * n + j] as number) +
            (belief.onShared[i * LINK_COUNT + link] as number) *
              variance *
              (belief.onShared[j * LINK_COUNT + link] as number);
      for (let i = 0; i < n; i++) belief.onShared[i * LINK_COUNT + link] = 0;
      belief.centre[link] = shared.meanOf(links[link] ?? 0);
    }
  }
  tray.benchId = benchId;
  tray.links = links;
  tray.exchange = exchangeOf(tray.spec, benchOf(farm, benchId).airSpeedMPerS);
}
