/** Wrong letters forgiven in a word: one, and one more for every four letters (judgement). */
const LETTERS_PER_SLIP = 4;

/**
 * Slips between two words: letters left out, put in, put for another, or two neighbours swapped.
 * (Optimal string alignment distance: L. Boytsov, Indexing methods for approximate dictionary searching, 2011, section 2.)
 */
export function slipCount(a: string, b: string): number {
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let slips = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        slips = Math.min(slips, (before[j - 2] ?? 0) + 1);
      row.push(slips);
    }
    before = last;
    last = row;
  }
  return last[b.length] ?? 0;
}

/** The known word that was probably meant; undefined where none is near. Upper and lower case are one. */
export function probablyMeant(word: string, known: Iterable<string>): string | undefined {
  let best: { readonly name: string; readonly slips: number } | undefined;
  for (const name of known) {
    const most = 1 + Math.floor(name.length / LETTERS_PER_SLIP);
    const slips = slipCount(word.toLowerCase(), name.toLowerCase());
    if (slips <= most && slips < name.length && (best === undefined || slips < best.slips))
      best = { name, slips };
  }
  return best?.name;
}

/** ` Did you mean "celery-1"?`, or nothing. */
export function didYouMean(word: string, known: Iterable<string>): string {
  const meant = probablyMeant(word, known);
  return meant === undefined ? '' : ` Did you mean "${meant}"?`;
}
