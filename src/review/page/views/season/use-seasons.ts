import { useEffect, useState } from 'preact/hooks';
import type { SeasonAnswer, SeasonsAnswer } from '../../../../../shared/page/page-season.js';

export type NamedSeason = SeasonsAnswer['seasons'][number] & { readonly answer: SeasonAnswer };

/** Asks the house for one season after the other, so that none waits for all; what came is kept. */
export function useSeasons(wanted: SeasonsAnswer['seasons']): readonly NamedSeason[] {
  const [known, setKnown] = useState<ReadonlyMap<string, SeasonAnswer>>(new Map());
  const missing = wanted.find(({ from }) => !known.has(from));
  useEffect(() => {
    if (missing === undefined) return;
    const stop = new AbortController();
    const query = new URLSearchParams({ from: missing.from, to: missing.to });
    fetch(`/api/season?${query}`, { signal: stop.signal })
      .then(async (response) => {
        if (!response.ok) return;
        const answer = (await response.json()) as SeasonAnswer;
        setKnown((before) => new Map(before).set(missing.from, answer));
      })
      .catch((cause: unknown) => {
        // Without the network what has come stays; the list of seasons says that there is no contact.
        if (!(cause instanceof TypeError) && !stop.signal.aborted) throw cause;
      });
    return () => stop.abort();
  }, [missing]);
  return wanted.flatMap((season) => {
    const answer = known.get(season.from);
    return answer === undefined ? [] : [{ ...season, answer }];
  });
}
