import { alarmKey } from '../alarms/alarm-book.js';
import type { Desk } from '../desk/desk.js';
import type { DeskView } from '../desk/watering-desk.js';
import type { Condition } from './condition.js';

/** Deadband of the temperature limits, degC: about twice the noise of a cheap probe. */
const TEMPERATURE_DEADBAND_C = 1;

/** Rule `temperature`: limits by bench, off where the farm gives none; no believed reading, no change. */
export function temperatureConditions(desk: Desk, view: DeskView): readonly Condition[] {
  return desk.options.benches.flatMap((bench): Condition[] => {
    const limits = bench.temperatureLimitsC;
    if (limits === undefined) return [];
    const condition = { kind: 'temperature' as const, of: bench.id };
    const temperatureC = view.temperatureC.get(bench.id);
    if (temperatureC === undefined)
      return [{ ...condition, raw: 'between', reason: 'no-reading', severity: 0 }];
    const belowC = (limits.low ?? Number.NEGATIVE_INFINITY) - temperatureC;
    const aboveC = temperatureC - (limits.high ?? Number.POSITIVE_INFINITY);
    const outsideC = Math.max(belowC, aboveC);
    const raw = outsideC > 0 ? 'on' : outsideC < -TEMPERATURE_DEADBAND_C ? 'off' : 'between';
    return [{ ...condition, raw, reason: belowC > aboveC ? 'too-cold' : 'too-hot', severity: outsideC }];
  });
}

/**
 * Rules about the watchman's own parts. While a board is silent its probes are silent too: their alarms are suppressed by
 * design, so that one call says it.
 */
export function healthConditions(desk: Desk, view: DeskView): readonly Condition[] {
  const boardDown = view.health.some(
    (part) =>
      part.kind === 'board' &&
      (!part.ok || desk.state.alarms.get(alarmKey('board', part.source))?.active === true),
  );
  return view.health.map((part) => ({
    kind: part.kind,
    of: part.source,
    raw: part.ok ? 'off' : 'on',
    reason: part.reason,
    own: part.own,
    severity: part.ok ? 0 : 1,
    suppressed: part.kind === 'probe' && boardDown && part.reason === 'silent',
  }));
}
