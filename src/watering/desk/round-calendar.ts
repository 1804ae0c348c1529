/** The farm's rounds as instants; the time zone's rules live behind it. */
export interface RoundCalendar {
  /** The first `count` rounds strictly after this instant, ascending, epoch ms. */
  after(atMs: number, count: number): readonly number[];
  /** The last round at or before this instant; undefined when none in the past fortnight. */
  lastBefore(atMs: number): number | undefined;
}
