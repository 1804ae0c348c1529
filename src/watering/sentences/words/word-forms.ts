/** What a language says around times, amounts and blocks; numbers and dates themselves are Intl's. */
export interface WordForms {
  /** BCP 47 tag for Intl. */
  readonly locale: string;
  /** @param clock "18:00"; @param day "" where the hour alone is clear, else as `days` or Intl name it */
  readonly time: (day: string, clock: string) => string;
  readonly about: (day: string, clock: string) => string;
  readonly round: (day: string, clock: string) => string;
  readonly days: { readonly tomorrow: string; readonly yesterday: string };
  readonly range: (least: string, most: string, unit: string) => string;
  /** The smallest common blocks, or those of a side as it is written: "38 mm". */
  readonly blocks: (side: string | undefined) => string;
  readonly blocksCounted: (count: number, side: string | undefined) => string;
}
