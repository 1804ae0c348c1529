import { toInstant } from '../../../../shared/base/ids.js';
import type { DayInput } from '../../../monitor/day/core/day-input.js';
import type { Fact } from '../../../monitor/ports/facts.js';
import type { Playing } from '../../../monitor/ports/playing.js';
import { PLAYING, playingDocument, playingState } from '../../../monitor/ports/playing.js';
import type { Clock, FactStore, Publisher, ReviewQueries } from '../../../monitor/ports/ports.js';
import type { Said } from '../../../watering/sentences/said/said.js';
import { loadDocument } from './kept-farm.js';

/** A start that was cut off so often in a row was no power cut: what it played is not played again (judgement). */
const MOST_STARTS = 2;

interface CutOffParts {
  readonly store: FactStore & ReviewQueries;
  readonly publisher: Publisher;
  readonly clock: Clock;
}

export interface CutOff {
  readonly troubles: readonly Said[];
  /** False where playing the kept day ends the process again and again. */
  readonly mayPlayDay: boolean;
}

/**
 * What a crash cut off in the middle is not done a second time: a command is answered as not carried out, and the kept day is not
 * played at every start. From here on this start itself is noted as being done.
 */
export async function setCutOffAside({ store, publisher, clock }: CutOffParts): Promise<CutOff> {
  const { reading, trouble } = await loadDocument(store, PLAYING, playingDocument);
  const playing = reading.outcome === 'read' ? reading.value : undefined;
  const at = toInstant(clock.nowMs());
  const troubles: Said[] =
    trouble === undefined
      ? []
      : [['asItIs', `${trouble}; a command that was being carried out may be done again.`]];
  if (playing?.what === 'command') {
    const answer = cutOffAnswer(playing, at);
    await publisher.tell([{ kind: 'answer', answer } satisfies Fact]);
    troubles.push(answer.said);
  }
  const count = playing?.what === 'start' ? playing.count : 0;
  await store.saveState(PLAYING, playingState({ what: 'start', at, count: count + 1 }));
  return { troubles, mayPlayDay: count < MOST_STARTS };
}

function cutOffAnswer(playing: Extract<Playing, { what: 'command' }>, at: string) {
  const { command } = playing;
  const tray = 'tray' in command ? command.tray : undefined;
  const said: Said = ['cutOff', command.do, tray, playing.at];
  return { ref: playing.ref, at, ok: false, code: 'not-carried-out', said };
}

const LEFT_ALONE = 'the farm stands as it was last saved, and nothing of before this start can be undone.';
/** Said where playing the day had ended the starts before. */
export const DAY_ENDED_STARTS = `The last starts ended while they played what had been kept of the last day. It is left alone now: ${LEFT_ALONE}`;
/** Said where it can't be played. */
export const DAY_NOT_PLAYED = `What had been kept of the last day could not be played again at this start, by a mistake of this program: ${LEFT_ALONE}`;

/** Readings and decisions that could not be played again, in a sentence; undefined: all could. */
export function leftOutSentence(leftOut: readonly DayInput[]): string | undefined {
  const [first] = leftOut;
  if (first === undefined) return undefined;
  const what = leftOut.length === 1 ? '1 reading or decision' : `${leftOut.length} readings and decisions`;
  return `${what} from ${toInstant(first.atMs)} on could not be played again at this start, by a mistake of this program, and forecasts go without.`;
}
