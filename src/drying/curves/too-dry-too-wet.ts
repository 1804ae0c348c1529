import type { AlarmTransition } from '../../../shared/facts/alarm.js';

/** How often a tray got too dry or stayed too wet. */
export interface DryWetCount {
  readonly trayId: string;
  readonly tooDryCount: number;
  readonly tooWetCount: number;
}

/**
 * Times that trays got too dry and too wet. A time begins when the alarm leaves `normal` and ends when it is back there;
 * acknowledging or shelving in between does not begin another. `transitions` are in the order of time.
 */
export function countDryWet(transitions: readonly AlarmTransition[]): readonly DryWetCount[] {
  const counts = new Map<string, { tooDryCount: number; tooWetCount: number }>();
  const standing = new Set<string>();
  for (const { kind, tray, state } of transitions) {
    if (tray === undefined || (kind !== 'dry' && kind !== 'wet')) continue;
    const key = `${tray} ${kind}`;
    if (state === 'normal') {
      standing.delete(key);
      continue;
    }
    if (standing.has(key)) continue;
    standing.add(key);
    const count = counts.get(tray) ?? { tooDryCount: 0, tooWetCount: 0 };
    if (kind === 'dry') count.tooDryCount += 1;
    else count.tooWetCount += 1;
    counts.set(tray, count);
  }
  return [...counts]
    .map(([trayId, count]) => ({ trayId, ...count }))
    .sort((a, b) => (a.trayId < b.trayId ? -1 : 1));
}
