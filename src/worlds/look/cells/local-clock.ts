import { DateTime } from 'luxon';
import { MS_PER_MIN } from '../../../../shared/base/time-units.js';

/** Zones change their offset on quarters of an hour at the finest. */
const BUCKET_MS = 15 * MS_PER_MIN;

/**
 * A zone's clock read backwards: from what the clock showed to the instant. An hour that a clock change repeats is told apart by
 * the order of the rows; one that it leaves out never was.
 */
export class LocalClock {
  private readonly offsets = new Map<number, readonly number[]>();
  repeatedHours = 0;
  neverHours = 0;

  constructor(private readonly zone: string) {}

  /**
   * Epoch ms of a clock's reading given as if it were UTC.
   * @param afterMs the row before, in the order of time: a repeated hour counts as the earlier instant that is not before it
   * @returns undefined where the clock never showed it
   */
  instantMs(localMs: number, afterMs: number): number | undefined {
    const bucket = Math.floor(localMs / BUCKET_MS);
    let offsets = this.offsets.get(bucket);
    if (offsets === undefined) {
      offsets = this.offsetsAt(bucket * BUCKET_MS);
      this.offsets.set(bucket, offsets);
    }
    const [first, second] = offsets;
    if (first === undefined) {
      this.neverHours += 1;
      return undefined;
    }
    const earlierMs = localMs - first * MS_PER_MIN;
    if (second === undefined) return earlierMs;
    this.repeatedHours += 1;
    return earlierMs > afterMs ? earlierMs : localMs - second * MS_PER_MIN;
  }

  /** Offsets in minutes that hold at a clock's reading: none, one, or two with that of the earlier instant first. */
  private offsetsAt(localMs: number): readonly number[] {
    const shown = new Date(localMs);
    const time = DateTime.fromObject(
      {
        year: shown.getUTCFullYear(),
        month: shown.getUTCMonth() + 1,
        day: shown.getUTCDate(),
        hour: shown.getUTCHours(),
        minute: shown.getUTCMinutes(),
      },
      { zone: this.zone },
    );
    if (time.minute !== shown.getUTCMinutes() || time.hour !== shown.getUTCHours()) return [];
    return time
      .getPossibleOffsets()
      .map(({ offset }) => offset)
      .sort((a, b) => b - a);
  }
}
