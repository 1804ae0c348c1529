import { useEffect, useState } from 'preact/hooks';
import type { SeasonAnswer } from '../../../../../shared/page/page-season.js';
import { keyOf, type NamedSpan, queryOf } from './named-spans.js';

export type NamedSeason = NamedSpan & { readonly answer: SeasonAnswer };

/** Asks the house for one span after the other, so that none waits for all; what came is kept. */
export function useSeasons(wanted: readonly NamedSpan[]): readonly NamedSeason[] {
  const [known, setKnown] = useState<ReadonlyMap<string, SeasonAnswer>>(new Map());
  const missing = wanted.find((one) => !known.has(keyOf(one)));
  const query = missing === undefined ? undefined : queryOf(missing);
  useEffect(() => {
    if (missing === undefined || query === undefined) return;
    const stop = new AbortController();
    fetch(`/api/season?${query}`, { signal: stop.signal })
      .then(async (response) => {
        if (!response.ok) return;
        const answer = (await response.json()) as SeasonAnswer;
        setKnown((before) => new Map(before).set(keyOf(missing), answer));
      })
      .catch((cause: unknown) => {
        // Without the network what has come stays; the list of seasons says that there is no contact.
        if (!(cause instanceof TypeError) && !stop.signal.aborted) throw cause;
      });
    return () => stop.abort();
  }, [query]);
  return wanted.flatMap((season) => {
    const answer = known.get(keyOf(season));
    return answer === undefined ? [] : [{ ...season, answer }];
  });
}
