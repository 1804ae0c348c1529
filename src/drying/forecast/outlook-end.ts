import { HOURS_PER_DAY } from '../../../shared/base/time-units.js';
import { HORIZON_H, MEMBER_COUNT, PATH_COUNT } from '../climate/member-draws.js';
import type { BenchOutlook } from '../climate/outlook.js';

/** One day in ten: what a grower would still call likely (judgement). */
const END_SHARE = 0.1;

/**
 * The same outlook with every member under the mean weather of one end of it: the tenth with the most (`most`) or least of one
 * quantity over the next day.
 */
export function outlookEnd(
  outlook: BenchOutlook,
  quantity: 'solarWPerM2' | 'vpdKPa',
  end: 'most' | 'least',
): BenchOutlook {
  const paths = outlook[quantity];
  for (let m = 0; m < PATH_COUNT; m++) outlook.reach(m, HORIZON_H - 1);
  // Members are ranked by the weather of the next day.
  const sums = Array.from({ length: MEMBER_COUNT }, (_, m) => {
    const from = m * HORIZON_H;
    return {
      from,
      sum: paths.subarray(from, from + HOURS_PER_DAY).reduce((total, value) => total + value, 0),
    };
  });
  const sign = end === 'most' ? -1 : 1;
  sums.sort((a, b) => sign * (a.sum - b.sum));
  const chosen = sums.slice(0, Math.round(MEMBER_COUNT * END_SHARE));
  const mean = Float64Array.from(
    { length: HORIZON_H },
    (_, lead) => chosen.reduce((total, { from }) => total + (paths[from + lead] ?? 0), 0) / chosen.length,
  );
  const same = new Float64Array(PATH_COUNT * HORIZON_H);
  for (let m = 0; m < PATH_COUNT; m++) same.set(mean, m * HORIZON_H);
  return { ...outlook, [quantity]: same };
}
