import { quickNormalQuantile } from '../../numbers/normal.js';
import { hoursOfLog, type JointWord, logHours, TO_P90 } from './expert-scores.js';

/**
 * Members of the block model joined with the experts' word, quantile by quantile in the log of hours, by the `chance` that the
 * reading is the tray; wider by as far as the two stand apart while neither is sure. Sorted ascending, as the members were.
 *
 * `members`: hours, sorted; `Infinity` beyond the horizon counts as the longest time that an expert tells.
 */
export function joinHours(members: Float64Array, word: JointWord, chance: number): Float64Array {
  const count = members.length;
  const middle = count >> 1;
  const ownMiddle = (logHours(members[middle - 1] as number) + logHours(members[middle] as number)) / 2;
  const joint = chance * word.middle + (1 - chance) * ownMiddle;
  const apart = chance * (1 - chance) * (word.middle - ownMiddle) ** 2;
  const joined = new Float64Array(count);
  for (let m = 0; m < count; m++) {
    const normal = quickNormalQuantile((m + 0.5) / count);
    const expert = word.middle + (word.halfWidth / TO_P90) * normal;
    const deviation = chance * expert + (1 - chance) * logHours(members[m] as number) - joint;
    const widened = Math.sign(deviation) * Math.sqrt(deviation ** 2 + apart * normal ** 2);
    joined[m] = hoursOfLog(joint + widened);
  }
  return joined.sort();
}
