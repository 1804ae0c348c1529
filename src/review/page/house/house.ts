import { createContext } from 'preact';
import { useContext, useEffect, useState } from 'preact/hooks';
import type { PagePresent } from '../../../../shared/page/page-present.js';
import { type FarmState, farmNowMs, type Store } from '../state/farm-store.js';
import type { Hand } from '../state/hand.js';
import type { LightState } from '../state/light.js';
import type { Teller } from '../state/tell.js';
import { type FarmClockWords, farmClockWords } from '../texts/farm-clock.js';
import type { Texts } from '../texts/texts.js';

/** What every view stands on. */
export interface House {
  readonly store: Store<FarmState>;
  readonly teller: Teller;
  readonly hand: Hand;
  readonly light: Store<LightState>;
  readonly texts: Texts;
}

const HouseContext = createContext<House | undefined>(undefined);
export const HouseProvider = HouseContext.Provider;

export function useHouse(): House {
  const house = useContext(HouseContext);
  if (house === undefined) throw new TypeError('a view stands outside the house');
  return house;
}

/** The value of a store, drawn anew when it changes. */
export function useStore<State>(store: Store<State>): State {
  const [state, setState] = useState(store.get());
  useEffect(() => {
    setState(store.get());
    return store.subscribe(() => setState(store.get()));
  }, [store]);
  return state;
}

const TICK_MS = 10_000;
const FAST_TICK_MS = 1000;

/** The farm's clock, ticking. */
export function useFarmNowMs(): number {
  const { store } = useHouse();
  const state = useStore(store);
  const speed = state.present?.clockSpeed ?? 1;
  const [, tick] = useState(0);
  useEffect(() => {
    const timer = setInterval(() => tick((count) => count + 1), speed > 1 ? FAST_TICK_MS : TICK_MS);
    return () => clearInterval(timer);
  }, [speed]);
  return farmNowMs(state, Date.now());
}

const clocks = new Map<string, FarmClockWords>();

/** The farm's clock in words. */
export function clockOf(present: PagePresent, texts: Texts): FarmClockWords {
  const key = `${present.timeZone} ${texts.locale}`;
  const known = clocks.get(key);
  if (known !== undefined) return known;
  const made = farmClockWords(present.timeZone, texts);
  clocks.set(key, made);
  return made;
}
