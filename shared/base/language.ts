/**
 * Languages that the farm can be told in. To add one: its code here, a table for the house in `src/watering/sentences`, one for the
 * page in `src/review/page/texts`; `npm run types` names what is missing of either.
 */
export const LANGUAGES = ['en'] as const;
export type Language = (typeof LANGUAGES)[number];
