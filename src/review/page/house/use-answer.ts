import { useLayoutEffect, useState } from 'preact/hooks';
import { useHouse, useStore } from './house.js';

/** What the house answered to a question: the last answer stays while a new one is under way. */
export interface Asked<T> {
  readonly answer: T | undefined;
  readonly waiting: boolean;
  readonly problem: string | undefined;
  readonly again: () => void;
}

/** Asks the house, and again when the question changes or the contact is back. */
export function useAnswer<T>(path: string): Asked<T> {
  const { store, texts } = useHouse();
  const { contact } = useStore(store);
  const [state, setState] = useState<Omit<Asked<T>, 'again'>>({
    answer: undefined,
    waiting: true,
    problem: undefined,
  });
  const [times, setTimes] = useState(0);
  const isLost = contact === 'lost';
  useLayoutEffect(() => {
    const stop = new AbortController();
    setState((before) => ({ ...before, waiting: true }));
    fetchAnswer<T>(path, stop.signal, texts.review.refusals)
      .then((reply) =>
        setState((before) => ({ waiting: false, answer: before.answer, problem: undefined, ...reply })),
      )
      .catch((cause: unknown) => {
        if (stop.signal.aborted) return;
        if (!(cause instanceof TypeError)) throw cause;
        setState((before) => ({ ...before, waiting: false, problem: texts.review.noContact }));
      });
    return () => stop.abort();
  }, [path, times, isLost, texts]);
  return { ...state, again: () => setTimes(times + 1) };
}

async function fetchAnswer<T>(
  path: string,
  signal: AbortSignal,
  refusals: Readonly<Record<string, string>>,
): Promise<{ readonly answer: T } | { readonly problem: string }> {
  const response = await fetch(path, { signal });
  const body: unknown = await response.json();
  if (response.ok) return { answer: body as T };
  const { code, sentence } = body as { readonly code: string; readonly sentence: string };
  return { problem: refusals[code] ?? sentence };
}
