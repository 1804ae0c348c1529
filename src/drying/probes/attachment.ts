import type { Belief } from '../filter/belief.js';
import { LINK_COUNT, PROBE_WIDTH, TRAY_WIDTH } from '../filter/layout.js';
import type { ProbeState } from '../filter/probe-state.js';
import type { TrayState } from '../filter/tray-state.js';

/** Makes room for one more probe at the end of every hypothesis. */
export function addProbeComponents(tray: TrayState, probe: ProbeState): void {
  probe.slot = tray.probes.length;
  tray.probes.push(probe);
  tray.beliefs = tray.beliefs.map((belief) => reshape(belief, keptAndNew(belief.mean.length)));
}

/** Forgets a probe's components: what the tray itself believes stays. */
export function dropProbeComponents(tray: TrayState, probe: ProbeState): void {
  const from = TRAY_WIDTH + probe.slot * PROBE_WIDTH;
  tray.beliefs = tray.beliefs.map((belief) =>
    reshape(
      belief,
      Array.from(belief.mean, (_, i) => i).filter((i) => i < from || i >= from + PROBE_WIDTH),
    ),
  );
  tray.probes.splice(tray.probes.indexOf(probe), 1);
  tray.probes.forEach((other, slot) => {
    other.slot = slot;
  });
}

function keptAndNew(count: number): number[] {
  return Array.from({ length: count + PROBE_WIDTH }, (_, i) => (i < count ? i : -1));
}

/** Belief with the components `source`, in that order; −1 stands for a new one, unknown yet. */
function reshape(belief: Belief, source: readonly number[]): Belief {
  const before = belief.mean.length;
  const after = source.length;
  const mean = new Float64Array(after);
  const onShared = new Float64Array(after * LINK_COUNT);
  const covariance = new Float64Array(after * after);
  source.forEach((from, i) => {
    if (from < 0) return;
    mean[i] = belief.mean[from] as number;
    onShared.set(belief.onShared.subarray(from * LINK_COUNT, (from + 1) * LINK_COUNT), i * LINK_COUNT);
    source.forEach((column, j) => {
      if (column >= 0) covariance[i * after + j] = belief.covariance[from * before + column] as number;
    });
  });
  return {
    weight: belief.weight,
    shedding: belief.shedding,
    mean,
    onShared,
    covariance,
    centre: belief.centre,
  };
}
