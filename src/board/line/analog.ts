import { type Answer, fault, value } from '../answer.js';
import { median } from '../parts/median.js';
import type { BoardLink } from './board-link.js';

/**
 * Median of several fresh samples of one analog channel, in counts of the converter. Each is asked for by itself: a board
 * that sends on its own accord goes on showing the last value when nothing new comes. Flipped bits give plausible counts,
 * which is what the median is for; a count above the converter's range fails the reading.
 *
 * @param warmUpCount samples thrown away first, after a multiplexer has switched
 */
export async function readCounts(
  link: BoardLink,
  channel: number,
  sampleCount: number,
  warmUpCount = 0,
): Promise<Answer<number>> {
  if (link.io.analogPins[channel] === undefined)
    return fault(`the board has no analog pin A${channel}; it has A0 to A${link.io.analogPins.length - 1}`);
  try {
    return await freshMedian(link, channel, sampleCount, warmUpCount);
  } finally {
    link.io.reportAnalogPin(channel, 0);
  }
}

async function freshMedian(
  link: BoardLink,
  channel: number,
  sampleCount: number,
  warmUpCount: number,
): Promise<Answer<number>> {
  const counts: number[] = [];
  for (let sample = 0; sample < warmUpCount + sampleCount; sample++) {
    const answer = await link.question<number>(`analog-read-${channel}`, () =>
      link.io.reportAnalogPin(channel, 1),
    );
    if (answer.kind === 'fault') return answer;
    if (answer.value > link.largestCounts || answer.value < 0)
      return fault(`${answer.value} counts are out of the converter's range, 0 to ${link.largestCounts}`);
    if (sample >= warmUpCount) counts.push(answer.value);
  }
  return value(median(counts));
}
