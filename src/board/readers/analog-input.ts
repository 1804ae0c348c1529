import type { BoardConfig } from '../../../shared/config/hookup.js';
import { type Answer, fault, value } from '../answer.js';
import { boardModels } from '../board-models.js';
import { readCounts } from '../line/analog.js';
import { voltsOfCounts } from '../parts/adc.js';
import type { Bench } from './part-reader.js';

export interface InputReading {
  readonly counts: number;
  readonly volts: number;
  /** Counts over full scale, 0 to below 1. */
  readonly ratio: number;
}

/** Samples thrown away after a multiplexer has switched: the converter's own capacitor still holds the last input. */
const warmUpAfterSwitch = 1;

/** Reads a configured input, "A0" or "mux1.7": switches the multiplexer first where there is one. */
export async function readInput(bench: Bench, input: string): Promise<Answer<InputReading>> {
  const { link, board } = bench;
  const [name = '', channelText] = input.split('.');
  let pin = name;
  if (channelText !== undefined) {
    const multiplexer = board.multiplexers.find(({ id }) => id === name);
    if (multiplexer === undefined) return fault(`board "${board.id}" has no multiplexer "${name}"`);
    const channel = Number(channelText);
    multiplexer.selectPins.forEach((selectPin, bit) => {
      link.drive(selectPin, ((channel >> bit) & 1) === 1);
    });
    pin = multiplexer.input;
  }
  const answer = await readCounts(
    link,
    Number(pin.slice(1)),
    board.sampleCount,
    channelText === undefined ? 0 : warmUpAfterSwitch,
  );
  if (answer.kind === 'fault') return answer;
  return value({
    counts: answer.value,
    volts: voltsOfCounts(answer.value, link.largestCounts, referenceVolts(board)),
    ratio: answer.value / (link.largestCounts + 1),
  });
}

function referenceVolts(board: BoardConfig): number {
  return board.referenceVolts ?? boardModels[board.model].logicVolts;
}
