import type { WatchmanHealth } from '../../watering/desk/watering-desk.js';

/**
 * Health of the probes and of the monitor's own sight. While all probes are silent the one call is that the monitor is
 * blind; the probes behind it are not called one by one.
 */
export function ownHealth(
  probes: readonly { readonly id: string; readonly ok: boolean; readonly reason: string }[],
): readonly WatchmanHealth[] {
  if (probes.length === 0) return [];
  const blind = probes.every(({ reason }) => reason === 'silent');
  return [
    { kind: 'monitor', source: 'monitor', ok: !blind, reason: blind ? 'blind' : 'ok' },
    ...probes.map(
      ({ id, ok, reason }): WatchmanHealth => ({
        kind: 'probe',
        source: id,
        ok: ok || blind,
        reason: blind ? 'monitor-blind' : reason,
      }),
    ),
  ];
}
