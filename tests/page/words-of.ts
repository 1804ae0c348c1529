/** Counts that a text may be made for: one, few and many differ. */
const COUNTS = [1, 2, 40] as const;
const MOST_ARGUMENTS = 6;

/** The words that a text, or a whole table of them, can say; what is put into its gaps is a number here. */
export function wordsOf(texts: unknown): Set<string> {
  if (typeof texts === 'string') return new Set(texts.toLowerCase().match(/\p{L}{2,}/gu) ?? []);
  if (typeof texts === 'function') {
    const said = COUNTS.flatMap((count) => {
      try {
        return [...wordsOf(texts(...Array(MOST_ARGUMENTS).fill(count)))];
      } catch (cause) {
        // one that wants a list or a name: its own letters hold its words
        if (!(cause instanceof TypeError)) throw cause;
        return [...wordsOf((String(texts).match(/`[^`]*`|'[^']*'/g) ?? []).join(' '))];
      }
    });
    return new Set(said);
  }
  if (typeof texts !== 'object' || texts === null) return new Set();
  return new Set(Object.values(texts).flatMap((one) => [...wordsOf(one)]));
}
