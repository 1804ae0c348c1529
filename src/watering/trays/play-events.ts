import type { TrayEvent } from '../../../shared/facts/tray-life.js';
import { isRefusal, playTrayEvent, type RegisteredTray, type TrayRegister } from '../desk/tray-register.js';

/** Trays that have ended are of no use to anybody who asks what stands. */
function withoutEnded(register: TrayRegister): TrayRegister {
  return {
    ...register,
    trays: new Map([...register.trays].filter(([, tray]) => tray.endedAtMs === undefined)),
  };
}

/**
 * The trays that stand, and where each probe is, after kept events in the order of their time: by the same rules as at the desk. What is
 * told of the time before a tray was entered comes right after that; what can't follow is passed over.
 * @param probeTray the tray of each probe before the first event
 */
export function traysAfter(
  events: readonly TrayEvent[],
  probeTray: ReadonlyMap<string, string>,
): { readonly trays: readonly RegisteredTray[]; readonly probeTrays: ReadonlyMap<string, string> } {
  let register: TrayRegister = { trays: new Map(), probeTray };
  const early = new Map<string, TrayEvent[]>();
  const play = (event: TrayEvent): void => {
    const outcome = playTrayEvent(register, event);
    if (!isRefusal(outcome)) {
      const ends = event.event === 'ended' || event.event === 'potted-on';
      register = ends ? withoutEnded(outcome) : outcome;
    } else if (outcome.code === 'unknown-tray')
      early.set(event.tray, [...(early.get(event.tray) ?? []), event]);
  };
  for (const event of events) {
    play(event);
    if (event.event !== 'new') continue;
    const waiting = early.get(event.tray) ?? [];
    early.delete(event.tray);
    waiting.forEach(play);
  }
  return { trays: [...register.trays.values()], probeTrays: register.probeTray };
}
