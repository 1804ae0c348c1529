import type { Fact } from '../../monitor/ports/facts.js';
import type { ToldAlarm } from '../../watering/sentences/said/told.js';

/** The alarms that are not normal after these facts, which come in the order of time. */
export function standingAlarms(facts: readonly Fact[]): ToldAlarm[] {
  const newest = new Map<string, ToldAlarm>();
  for (const fact of facts) {
    if (fact.kind !== 'alarm') continue;
    const { kind, tray, bench, source } = fact.transition;
    newest.set(`${kind} ${tray ?? bench ?? source ?? ''}`, fact.transition);
  }
  return [...newest.values()].filter((transition) => transition.state !== 'normal');
}
