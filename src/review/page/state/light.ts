import { createStore, type Store } from './farm-store.js';
import { remember, remembered } from './remembered.js';

/** The lights that the page can be read in. */
export const LIGHTS = ['day', 'sun', 'night'] as const;
export type Light = (typeof LIGHTS)[number];
/** What this phone was told; `phone` follows its own settings. */
export type LightChoice = Light | 'phone';

export interface LightState {
  readonly choice: LightChoice;
}

const KEY = 'light';
const DARK = '(prefers-color-scheme: dark)';
/** Who asks the phone for more contrast gets the light without half-tones. */
const HARD = '(prefers-contrast: more)';

/** Puts the page into the light that was chosen, or that the phone asks for, and follows both. */
export function followLight(page: Document): Store<LightState> {
  const store = createStore<LightState>({ choice: remembered<LightChoice>(KEY) ?? 'phone' });
  const [dark, hard] = [window.matchMedia(DARK), window.matchMedia(HARD)];
  const show = (): void => {
    const { choice } = store.get();
    const own = hard.matches ? 'sun' : dark.matches ? 'night' : 'day';
    page.documentElement.dataset['light'] = choice === 'phone' ? own : choice;
  };
  store.subscribe(() => {
    remember(KEY, store.get().choice);
    show();
  });
  dark.addEventListener('change', show);
  hard.addEventListener('change', show);
  show();
  return store;
}
