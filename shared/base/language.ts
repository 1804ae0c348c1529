/**
 * Languages that the farm can be told in. To add one: its code here, a table for the house beside those in `src/watering/sentences`
 * (entered in `speech.ts`) and one for the page in `src/review/page/texts` (entered in `texts.ts`, in a folder named by its code);
 * `npm run types` names what is missing, and `tests/languages` tries every entry for lost names, times and amounts.
 */
export const LANGUAGES = ['en', 'es'] as const;
export type Language = (typeof LANGUAGES)[number];
