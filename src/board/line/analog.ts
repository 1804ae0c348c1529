import type { Clock } from '../../monitor/ports/ports.js';
import { steadyMean } from '../../numbers/steady-mean.js';
import { type Answer, fault, value } from '../parts/answer.js';
import type { BoardLink } from './board-link.js';

/** Ten samples this far apart span 100 ms: five cycles of 50 Hz and six of 60 Hz, over which mains hum adds up to nothing. */
const betweenMs = 10;

export interface Pace {
  readonly clock: Clock;
  readonly signal: AbortSignal;
}

/**
 * Mean of several fresh samples of one analog channel, in counts of the converter, outliers left out. Each is asked for by
 * itself: a board that sends on its own accord goes on showing the last value when nothing new comes. Flipped bits give
 * plausible counts, which is what leaving out is for; a count above the converter's range fails the reading.
 *
 * @param warmUpCount samples thrown away first, after a multiplexer has switched
 */
export async function readCounts(
  link: BoardLink,
  channel: number,
  sampleCount: number,
  warmUpCount: number,
  pace: Pace,
): Promise<Answer<number>> {
  if (link.io.analogPins[channel] === undefined)
    return fault(`the board has no analog pin A${channel}; it has A0 to A${link.io.analogPins.length - 1}`);
  try {
    return await freshMean(link, channel, sampleCount, warmUpCount, pace);
  } finally {
    link.io.reportAnalogPin(channel, 0);
  }
}

async function freshMean(
  link: BoardLink,
  channel: number,
  sampleCount: number,
  warmUpCount: number,
  { clock, signal }: Pace,
): Promise<Answer<number>> {
  const counts: number[] = [];
  const startedMs = clock.monotonicMs();
  for (let sample = 0; sample < warmUpCount + sampleCount; sample++) {
    const waitMs = startedMs + sample * betweenMs - clock.monotonicMs();
    if (waitMs > 0) await clock.sleep(waitMs, signal);
    const answer = await link.question<number>(`analog-read-${channel}`, () =>
      link.io.reportAnalogPin(channel, 1),
    );
    if (answer.kind === 'fault') return answer;
    if (answer.value > link.largestCounts || answer.value < 0)
      return fault(`${answer.value} counts are out of the converter's range, 0 to ${link.largestCounts}`);
    if (sample >= warmUpCount) counts.push(answer.value);
  }
  return value(steadyMean(counts));
}
