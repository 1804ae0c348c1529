import type { WatchmanHealth } from '../watering/watering-desk.js';

/** With no believed reading from any probe for this long the monitor is blind. */
const BLIND_MS = 45 * 60_000;

/**
 * Health of the probes and of the monitor's own sight. While nothing at all is heard the one call is that the monitor
 * is blind; the probes behind it are not called one by one.
 */
export function ownHealth(
  probes: readonly { readonly id: string; readonly ok: boolean; readonly reason: string }[],
  firstSampleMs: number | undefined,
  lastBelievedMs: number | undefined,
  nowMs: number,
): readonly WatchmanHealth[] {
  if (probes.length === 0 || firstSampleMs === undefined) return [];
  const blind = nowMs - (lastBelievedMs ?? firstSampleMs) > BLIND_MS;
  const monitor: WatchmanHealth = {
    kind: 'monitor',
    source: 'monitor',
    ok: !blind,
    reason: blind ? 'blind' : 'ok',
  };
  return [
    monitor,
    ...probes.map(({ id, ok, reason }): WatchmanHealth => {
      const hidden = blind && reason === 'silent';
      return { kind: 'probe', source: id, ok: ok || hidden, reason: hidden ? 'monitor-blind' : reason };
    }),
  ];
}
