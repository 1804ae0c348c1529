import type { en } from './en/en.js';

/**
 * Every word on the page in one language. How it is used:
 * - a view takes `const { texts } = useHouse()` and writes `texts.now.title`; it holds no words of its own (a test looks);
 * - a new word is a key in `en/`: a string, or a function of ready-made strings and counts, never of parts of a sentence;
 * - the other languages get the same key in their own folder: `npm run types` names those that lack it;
 * - numbers, amounts and times are made by `amounts/` and `farm-clock.ts` (`numberWords`, `waterWords`, `clockOf(...).when`), in the language's own writing.
 */
export type Texts = typeof en;

/**
 * One table for each language: another is one file of type `Texts` and its row here. A phone loads only the one that it reads. The
 * house itself speaks fewer languages perhaps; each of those has its table.
 */
const tables = {
  en: async () => (await import('./en/en.js')).en,
  es: async () => (await import('./es/es.js')).es,
} satisfies Readonly<Record<string, () => Promise<Texts>>>;

/** A language that the page can be read in. */
export type PageLanguage = keyof typeof tables;
export const PAGE_LANGUAGES = Object.keys(tables) as PageLanguage[];

export function loadTexts(language: PageLanguage): Promise<Texts> {
  return tables[language]();
}
