import type { VNode } from 'preact';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';

/** Lines that wait for a moment in which the phone has nothing better to do, in the order in which they asked. */
const waiting = new Set<() => void>();
let isAsked = false;

/** Lines drawn in one such moment: on a phone slowed four times a few milliseconds (measured: npm run bench -- page-at-hand). */
const LINES_A_MOMENT = 4;
/** Where the browser does not tell when it is idle (Safari): a frame between two moments. */
const MOMENT_MS = 16;
/** So long after its last step a scrolling page is taken to move still (judgement); what nobody sees waits meanwhile. */
const STILL_MS = 200;
let scrolledAtMs = Number.NEGATIVE_INFINITY;

function inAMoment(draw: () => void): void {
  if (typeof requestIdleCallback === 'function') requestIdleCallback(draw);
  else setTimeout(draw, MOMENT_MS);
}

function drawSome(): void {
  isAsked = false;
  if (performance.now() - scrolledAtMs < STILL_MS) {
    isAsked = true;
    setTimeout(drawSome, STILL_MS);
    return;
  }
  for (const draw of [...waiting].slice(0, LINES_A_MOMENT)) {
    waiting.delete(draw);
    draw();
  }
  askForAMoment();
}

function askForAMoment(): void {
  if (isAsked || waiting.size === 0) return;
  isAsked = true;
  inAMoment(drawSome);
}

/** What is within a screen's height of being seen. */
const nearOnes = new WeakMap<Element, (isNear: boolean) => void>();
let watcher: IntersectionObserver | undefined;

function watch(line: Element, tell: (isNear: boolean) => void): () => void {
  if (watcher === undefined)
    addEventListener('scroll', () => (scrolledAtMs = performance.now()), { passive: true });
  watcher ??= new IntersectionObserver(
    (entries) => {
      for (const { target, isIntersecting } of entries) nearOnes.get(target)?.(isIntersecting);
    },
    { rootMargin: '100% 0px' },
  );
  nearOnes.set(line, tell);
  watcher.observe(line);
  return () => watcher?.unobserve(line);
}

interface LineInTimeProps {
  readonly class?: string;
  /** Among the first, that are on the screen when the page opens. */
  readonly isFirst: boolean;
  readonly draw: () => VNode;
}

/**
 * A line of a list that may have hundreds: drawn at once where it can be seen, and when the phone has time where it can't. Until
 * then it says what it said before; before its first time it is an empty place, as high as the style sheet gives it.
 */
export function LineInTime({ class: look, isFirst, draw }: LineInTimeProps) {
  const place = useRef<HTMLLIElement>(null);
  const isNear = useRef(isFirst);
  const isItsTurn = useRef(false);
  const drawn = useRef<VNode | undefined>(undefined);
  const [, again] = useState(0);
  const takeTurn = useRef(() => {
    isItsTurn.current = true;
    again((count) => count + 1);
  }).current;

  if (isNear.current || isItsTurn.current) {
    drawn.current = draw();
    isItsTurn.current = false;
    waiting.delete(takeTurn);
  } else {
    waiting.add(takeTurn);
    askForAMoment();
  }

  useLayoutEffect(() => {
    const line = place.current;
    if (line === null) return;
    const unwatch = watch(line, (near) => {
      isNear.current = near;
      if (near && waiting.delete(takeTurn)) takeTurn();
    });
    return () => {
      unwatch();
      waiting.delete(takeTurn);
    };
  }, [takeTurn]);
  return (
    <li ref={place} class={drawn.current === undefined ? `${look ?? ''} is-to-come` : look}>
      {drawn.current}
    </li>
  );
}
