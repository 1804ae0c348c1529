import { alarmTransitionSchema, callSchema } from '../../shared/facts/alarm.js';
import type { DeskEffect, WateringDesk } from '../../src/watering/desk/watering-desk.js';
import { forecast, HOUR, MIN, only, view } from './helpers.js';

/** Decides every ten minutes from `fromMs`; each tray is dry at its moment. */
export function watch(
  desk: WateringDesk,
  dryAtMs: ReadonlyMap<string, number>,
  fromMs: number,
  hours: number,
  shape: (nowMs: number) => Parameters<typeof forecast>[3] = () => ({}),
): readonly DeskEffect[] {
  const effects: DeskEffect[] = [];
  for (let nowMs = fromMs; nowMs < fromMs + hours * HOUR; nowMs += 10 * MIN) {
    const forecasts = [...dryAtMs].map(([id, dryMs]) =>
      forecast(id, nowMs, (dryMs - nowMs) / HOUR, shape(nowMs)),
    );
    effects.push(...desk.decide(view(nowMs, forecasts)));
  }
  return effects;
}

export const states = (effects: readonly DeskEffect[], kind: string): readonly string[] =>
  only(effects, 'alarm')
    .map(({ transition }) => alarmTransitionSchema.parse(transition))
    .filter((transition) => transition.kind === kind)
    .map(({ state }) => state);
export const calls = (effects: readonly DeskEffect[]) =>
  only(effects, 'call').map(({ call }) => callSchema.parse(call));
