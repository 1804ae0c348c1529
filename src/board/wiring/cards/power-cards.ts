import type { BoardConfig } from '../../../../shared/config/kit/hookup.js';
import { boardModels } from '../../kit/board-models.js';
import type { BoardProbe } from '../../kit/hooked-probe.js';
import { cableMOf } from '../../parts/lead.js';
import type { Card } from './card.js';
import { capacitor, ohmText, resistor } from './component.js';
import { longBusPullUpOhm, shortBusM, shortBusPullUpOhm } from './part-facts.js';

/** In series with each measured point, so that a mistake on a wire can't push current into a pin. */
export const seriesOhm = 1000;
/** Steadies each measured point; with a blade's 36 kohm it settles in 20 ms. */
export const inputNanofarad = 100;

/** Id of the slow switch's card. */
export const SWITCH_CARD = 'probe-power';

/**
 * The slow high-side switch: 220 kohm hold it off, 1 µF keeps it off while the rail comes up, 100 nF from gate to drain
 * make it open within some 20 ms, so that cold blades draw no gulp that would dip the rail (computed, tests/board/circuit).
 */
export function switchCards(board: BoardConfig, supplyName: string): Card[] {
  const power = board.probePower;
  if (power === undefined) return [];
  const top = power.topInput === undefined ? [] : [topCard(power.topInput)];
  if (power.through === 'pin') return top;
  const at = (point: string) => `${SWITCH_CARD}/${point}`;
  return [
    {
      id: SWITCH_CARD,
      kind: 'power',
      title: 'probe power',
      subtitle: 'slow high-side switch, on with ON high',
      terminals: [
        { name: 'IN', net: supplyName },
        { name: 'ON', net: `D${power.pin}` },
        { name: 'GND', net: 'GND' },
        { name: 'OUT', net: 'PWR' },
      ],
      components: [
        {
          kind: 'p-mosfet',
          amount: 0,
          nodes: ['PWR', at('gate'), supplyName],
          name: 'P-MOSFET, logic level',
        },
        {
          kind: 'n-mosfet',
          amount: 0,
          nodes: [at('drain'), at('base'), 'GND'],
          name: 'N-MOSFET, logic level',
        },
        resistor(220_000, supplyName, at('gate')),
        capacitor(1000, supplyName, at('gate')),
        capacitor(100, at('gate'), 'PWR'),
        resistor(47_000, at('gate'), at('drain')),
        resistor(10_000, `D${power.pin}`, at('base')),
        resistor(100_000, at('base'), 'GND'),
        resistor(10_000, 'PWR', 'GND'),
        capacitor(100_000, supplyName, 'GND'),
      ],
      note: 'P-MOSFET IN to OUT, gate by N-MOSFET: its ten parts stand in the wire list and in its own diagram',
    },
    ...top,
  ];
}

function topCard(input: string): Card {
  return {
    id: 'power-top',
    kind: 'power',
    title: 'top of probe power',
    subtitle: `measured at each reading, ${ohmText(seriesOhm)} in series`,
    terminals: [
      { name: 'PWR', net: 'PWR' },
      { name: 'OUT', net: input },
    ],
    components: [resistor(seriesOhm, 'PWR', input)],
  };
}

/** Feeds the reference 2.5 mA from 5 V and 0.8 mA from 3.3 V. */
const referenceFeedOhm = 1000;

export function referenceCards(board: BoardConfig, supplyName: string): Card[] {
  const { reference } = board;
  if (reference === undefined) return [];
  const { input, volts } = reference;
  return [
    {
      id: 'reference',
      kind: 'power',
      title: 'voltage reference',
      subtitle: `${volts} V shunt, measured with the blades`,
      terminals: [
        { name: 'VCC', net: supplyName },
        { name: 'OUT', net: input },
        { name: 'GND', net: 'GND' },
      ],
      components: [
        resistor(referenceFeedOhm, supplyName, input),
        {
          kind: 'reference',
          amount: volts,
          nodes: [input, 'GND'],
          name: `${volts} V shunt reference, 0.5 %`,
        },
        capacitor(inputNanofarad, input, 'GND'),
      ],
      divider: { upper: ohmText(referenceFeedOhm), lower: `${volts} V ref.` },
    },
  ];
}

/** Metres of all I2C cables of a board together. */
export function busM(hung: readonly BoardProbe[]): number {
  const parts = new Map(
    hung
      .filter(({ hookup }) => !('input' in hookup))
      .map(({ hookup }) => [`${hookup.part} ${'address' in hookup ? hookup.address : ''}`, cableMOf(hookup)]),
  );
  return [...parts.values()].reduce((sum, metres) => sum + metres, 0);
}

/** Pull-ups of the bus, and a level shifter where a 3.3 V part hangs on a 5 V board. */
export function busCards(board: BoardConfig, hung: readonly BoardProbe[], supplyName: string): Card[] {
  const onBus = hung.filter(({ hookup }) => !('input' in hookup));
  if (onBus.length === 0) return [];
  const pullUpOhm = busM(hung) > shortBusM ? longBusPullUpOhm : shortBusPullUpOhm;
  const pullUps: Card = {
    id: 'bus-pull-ups',
    kind: 'power',
    title: 'I2C pull-ups',
    subtitle: `${ohmText(pullUpOhm)} each, once for the whole bus`,
    terminals: [
      { name: 'VCC', net: supplyName },
      { name: 'SDA', net: 'SDA' },
      { name: 'SCL', net: 'SCL' },
    ],
    components: [resistor(pullUpOhm, supplyName, 'SDA'), resistor(pullUpOhm, supplyName, 'SCL')],
    note: 'take those of the modules off: all together not under 1.53 kΩ',
  };
  if (boardModels[board.model].logicVolts !== 5 || !onBus.some(({ hookup }) => hookup.supplyVolts === 3.3))
    return [pullUps];
  const shifter: Card = {
    id: 'level-shifter',
    kind: 'power',
    title: 'level shifter',
    subtitle: 'two-way, 5 V and 3.3 V, two lines',
    terminals: [
      { name: 'HV', net: '5V' },
      { name: 'LV', net: '3V3' },
      { name: 'GND', net: 'GND' },
      { name: 'HV1', net: 'SDA' },
      { name: 'HV2', net: 'SCL' },
      { name: 'LV1', net: 'SDA3' },
      { name: 'LV2', net: 'SCL3' },
    ],
    components: [
      { kind: 'level-shifter', amount: 0, nodes: ['SDA', 'SDA3'], name: 'two-way level shifter, two lines' },
    ],
  };
  return [pullUps, shifter];
}
