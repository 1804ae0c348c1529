import { useLayoutEffect, useRef } from 'preact/hooks';
import type { AlarmTransition } from '../../../../../shared/facts/alarm.js';
import type { PagePresent } from '../../../../../shared/page/page-present.js';
import { useHouse, useStore } from '../../house/house.js';
import type { TrayStanding } from '../../state/tray-standing.js';

/** What Now lists, in its order. */
export interface NowLists {
  readonly open: readonly TrayStanding[];
  readonly waits: readonly TrayStanding[];
  readonly calls: readonly AlarmTransition[];
  readonly testCall: PagePresent['testCall'];
}

/** The lists as they are, or, while a hand is near, those that it sees: the same lines in the same places, their figures new. */
export function useHeldLists(lists: NowLists): NowLists {
  const { hand } = useHouse();
  const { isNear } = useStore(hand.store);
  const seen = useRef(lists);
  const shown = isNear ? held(seen.current, lists) : lists;
  seen.current = shown;
  useLayoutEffect(() => hand.keepUnderFinger());
  return shown;
}

function held(seen: NowLists, now: NowLists): NowLists {
  const standings = new Map([...now.open, ...now.waits].map((one) => [one.tray.id, one]));
  // A tray that was watered or has ended keeps its place, its dose and so its height.
  const today = (one: TrayStanding): TrayStanding => ({
    ...one,
    tray: standings.get(one.tray.id)?.tray ?? one.tray,
  });
  return { ...seen, open: seen.open.map(today), waits: seen.waits.map(today) };
}
