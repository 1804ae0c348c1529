import { boardModels } from '../kit/board-models.js';
import { readCounts } from '../line/analog.js';
import { shareOfCounts } from '../parts/adc.js';
import { type Answer, fault, value } from '../parts/answer.js';
import type { Bench, Supply } from './part-reader.js';

export interface InputReading {
  readonly counts: number;
  readonly volts: number;
  /** Voltage at the input over that of the divider's top, above 0; 1 and more where nothing pulls it down. */
  readonly ratio: number;
  /** What the board runs on, as far as it is known. */
  readonly supplyVolts: number;
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
  const supply = await bench.supply();
  if (supply.kind === 'fault') return supply;
  const counts = await countsOf(bench, pin, channelText === undefined ? 0 : warmUpAfterSwitch);
  if (counts.kind === 'fault') return counts;
  const share = shareOfCounts(counts.value, link.largestCounts);
  const { volts: supplyVolts, topShare } = supply.value;
  return value({ counts: counts.value, volts: share * supplyVolts, ratio: share / topShare, supplyVolts });
}

/** A board runs on this much of its nominal voltage; outside, the reference is wired wrongly (judgement: USB sags to 4.4 V). */
const plausibleSupply = { least: 0.8, most: 1.15 } as const;
/** Below this share of the supply probe power is not on (judgement: six blades on a bare pin leave 0.76). */
const leastTopShare = 0.5;

/** Measures reference and top where the board has them; nominal or configured values where not. */
export async function measureSupply(bench: Omit<Bench, 'supply'>): Promise<Answer<Supply>> {
  const { board, link } = bench;
  const { logicVolts } = boardModels[board.model];
  let volts = board.referenceVolts ?? logicVolts;
  const { reference, probePower } = board;
  if (reference !== undefined) {
    const counts = await countsOf(bench, reference.input, 0);
    if (counts.kind === 'fault') return counts;
    volts = reference.volts / shareOfCounts(counts.value, link.largestCounts);
    if (volts < logicVolts * plausibleSupply.least || volts > logicVolts * plausibleSupply.most)
      return fault(
        `the ${reference.volts} V reference on ${reference.input} reads ${Math.round(counts.value)} counts, which can't be: check its wires and its 1 kohm`,
      );
  }
  if (probePower?.topInput === undefined) return value({ volts, topShare: 1 });
  const counts = await countsOf(bench, probePower.topInput, 0);
  if (counts.kind === 'fault') return counts;
  const topShare = shareOfCounts(counts.value, link.largestCounts);
  if (topShare < leastTopShare)
    return fault(
      `probe power does not come on: its top on ${probePower.topInput} reads ${Math.round(counts.value)} counts`,
    );
  return value({ volts, topShare });
}

function countsOf(bench: Omit<Bench, 'supply'>, pin: string, warmUpCount: number): Promise<Answer<number>> {
  const { link, board, clock, signal } = bench;
  return readCounts(link, Number(pin.slice(1)), board.sampleCount, warmUpCount, { clock, signal });
}
