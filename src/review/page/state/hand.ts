import { createStore, type Store } from './farm-store.js';

/** No press for this long, and the hand is taken to be away (judgement: one looks, breathes and presses again within it). */
const AWAY_AFTER_MS = 4000;
/** A wet thumb presses again when it is not sure: within this a press at the same place is for what lay there (judgement). */
const SAME_PRESS_MS = 1200;
/** A thumb does not hit the same spot twice: half a fingertip, CSS px. */
const FINGERTIP_PX = 44;
/** A mouse that has gone this far is away. */
const MOUSE_AWAY_PX = 90;

export interface HandState {
  /** Something was pressed, and the hand may still be there: nothing that can be pressed may move. */
  readonly isNear: boolean;
  /** This phone's clock when the hand came. */
  readonly sinceMs: number;
}

export interface Hand {
  readonly store: Store<HandState>;
  /** Brings what was pressed last back under the finger, after something above it has grown or shrunk. */
  keepUnderFinger(): void;
}

interface Press {
  readonly x: number;
  readonly y: number;
  readonly atMs: number;
  readonly thing: Element | null;
  readonly words: string;
  /** What else could be pressed about there, as it lay and as it read. */
  readonly lay: ReadonlyMap<Element, string>;
}

const PRESSABLE = 'button, a, summary, select, input, textarea, dialog';

function pressable(target: EventTarget | null): Element | null {
  // A label and the box inside it are one thing: a press on the first is passed on to the second.
  return target instanceof Element ? (target.closest('label') ?? target.closest(PRESSABLE)) : null;
}

const wordsOf = (thing: Element | null): string =>
  thing === null ? '' : (thing.getAttribute('aria-label') ?? thing.textContent ?? '');

/** Where a thing lies and what it says. */
function lookOf(thing: Element): string {
  const { left, top } = thing.getBoundingClientRect();
  return `${Math.round(left)} ${Math.round(top)} ${wordsOf(thing)}`;
}

/** Whether what is pressed now is what was pressed before, or lay beside it as it lies now. */
const layThere = (last: Press, thing: Element | null): boolean =>
  thing === last.thing
    ? wordsOf(thing) === last.words
    : thing !== null && last.lay.get(thing) === lookOf(thing);

/** All that could be pressed within a fingertip of a place. */
function layAbout(page: Document, x: number, y: number): ReadonlyMap<Element, string> {
  const lay = new Map<Element, string>();
  for (const thing of page.querySelectorAll(`label, ${PRESSABLE}`)) {
    const { left, right, top, bottom } = thing.getBoundingClientRect();
    const away = Math.hypot(Math.max(left - x, x - right, 0), Math.max(top - y, y - bottom, 0));
    if (away < FINGERTIP_PX) lay.set(thing, lookOf(thing));
  }
  return lay;
}

/**
 * Watches the hand over the page. A press means what lay under the finger: a second one at the same place, before one can have
 * read what has come there since, does nothing; another thing that lay there all the while may be pressed at once. While the hand is
 * near the views keep their order.
 */
export function watchHand(page: Document): Hand {
  const store = createStore<HandState>({ isNear: false, sinceMs: 0 });
  let last: Press | undefined;
  let leaving: ReturnType<typeof setTimeout> | undefined;
  let held: { readonly thing: Element; top: number } | undefined;

  const away = (): void => {
    clearTimeout(leaving);
    held = undefined;
    if (store.get().isNear) store.set({ isNear: false });
  };
  const stay = (): void => {
    clearTimeout(leaving);
    leaving = setTimeout(away, AWAY_AFTER_MS);
  };
  page.addEventListener(
    'pointerdown',
    (event) => {
      clearTimeout(leaving);
      const thing = pressable(event.target);
      held = thing === null ? undefined : { thing, top: thing.getBoundingClientRect().top };
      if (!store.get().isNear) store.set({ isNear: true, sinceMs: Date.now() });
    },
    true,
  );
  page.addEventListener('pointerup', stay, true);
  page.addEventListener('pointercancel', stay, true);
  page.addEventListener('pointermove', (event) => {
    if (event.pointerType !== 'mouse' || event.buttons !== 0 || last === undefined) return;
    if (Math.hypot(event.clientX - last.x, event.clientY - last.y) > MOUSE_AWAY_PX) away();
  });
  page.addEventListener(
    'scroll',
    () => {
      if (held !== undefined) held.top = held.thing.getBoundingClientRect().top;
    },
    { capture: true, passive: true },
  );
  page.addEventListener(
    'click',
    (event) => {
      // A keyboard's press has no place and follows the focus, which does not jump.
      if (event.detail === 0) return;
      const thing = pressable(event.target);
      // When the finger was there, not when this page had time for it: a slow phone is late.
      const atMs = event.timeStamp;
      const [x, y] = [event.clientX, event.clientY];
      if (
        last !== undefined &&
        atMs - last.atMs < SAME_PRESS_MS &&
        Math.hypot(x - last.x, y - last.y) < FINGERTIP_PX &&
        !layThere(last, thing)
      ) {
        event.preventDefault();
        event.stopImmediatePropagation();
        return;
      }
      last = { x, y, atMs, thing, words: wordsOf(thing), lay: layAbout(page, x, y) };
    },
    true,
  );

  return {
    store,
    keepUnderFinger: () => {
      if (held === undefined || !held.thing.isConnected) return;
      const moved = held.thing.getBoundingClientRect().top - held.top;
      if (Math.abs(moved) > 1) window.scrollBy({ top: moved, behavior: 'instant' });
    },
  };
}
