import type { BoardConfig } from '../../../../shared/config/kit/hookup.js';
import type { ProbeConfig } from '../../../../shared/config/kit/probes.js';
import { boardModels } from '../../kit/board-models.js';
import { groupBy } from '../../kit/group-by.js';
import { type BoardProbe, partKey } from '../../kit/hooked-probe.js';
import { callCards } from '../cards/call-cards.js';
import type { Card, Terminal } from '../cards/card.js';
import { capacitor } from '../cards/component.js';
import { busCards, referenceCards, SWITCH_CARD, switchCards } from '../cards/power-cards.js';
import { probeCard } from '../cards/probe-cards.js';
import { probesOn } from '../conflicts/board-pins.js';

/** One wire, numbered as in the diagram. */
export interface Wire {
  readonly number: number;
  readonly net: string;
  readonly from: string;
  readonly to: string;
  /** Longest length that was computed to work, metres. */
  readonly longestM: number;
  readonly gaugeMm2: number;
}

export interface BoardPlan {
  readonly board: BoardConfig;
  readonly supplyName: '5V' | '3V3';
  /** Board terminals in the order in which they are drawn. */
  readonly boardTerminals: readonly Terminal[];
  readonly cards: readonly Card[];
  readonly wires: readonly Wire[];
}

/** Wires inside the enclosure, and leads of a cable (judgement: what terminals hold well, and what four cores come in). */
const insideMm2 = 0.25;
const insideM = 0.3;
const cableMm2 = 0.14;

/** Plans one board's wiring: every part, every terminal, every wire, every small part in the enclosure. */
export function planBoard(board: BoardConfig, probes: readonly ProbeConfig[]): BoardPlan {
  const supplyName = boardModels[board.model].logicVolts === 5 ? '5V' : '3V3';
  const hung = probesOn(board, probes);
  const cards: Card[] = [
    ...switchCards(board, supplyName),
    ...referenceCards(board, supplyName),
    ...multiplexerCards(board, hung, supplyName),
    ...busCards(board, hung, supplyName),
    ...[...groupBy(hung, ({ hookup }) => partKey(hookup)).values()].flatMap((group) =>
      probeCard(board, group),
    ),
    ...callCards(board),
  ];
  const boardTerminals = terminalsOf(board, supplyName, cards);
  return { board, supplyName, boardTerminals, cards, wires: wiresOf(boardTerminals, cards) };
}

/** Fed for good: a multiplexer without supply would be fed through its select lines, which it does not bear. */
function multiplexerCards(board: BoardConfig, hung: readonly BoardProbe[], supplyName: string): Card[] {
  return board.multiplexers.map(({ id, input, selectPins }) => {
    const channels = hung
      .flatMap(({ hookup }) => ('input' in hookup ? [hookup.input] : []))
      .filter((channel) => channel.startsWith(`${id}.`))
      .map((channel) => Number(channel.split('.')[1]))
      .sort((a, b) => a - b);
    return {
      id,
      kind: 'multiplexer',
      title: id,
      subtitle: '16-channel analog multiplexer',
      terminals: [
        { name: 'VCC', net: supplyName },
        { name: 'GND', net: 'GND' },
        { name: 'EN', net: 'GND' },
        { name: 'SIG', net: input },
        ...selectPins.map((pin, bit) => ({ name: `S${bit}`, net: `D${pin}` })),
        ...channels.map((channel) => ({ name: `C${channel}`, net: `${id}.${channel}` })),
      ],
      components: [capacitor(100, supplyName, 'GND')],
      note: '100 nF from VCC to GND beside it',
    };
  });
}

function terminalsOf(board: BoardConfig, supplyName: string, cards: readonly Card[]): Terminal[] {
  const model = boardModels[board.model];
  const nets = new Set(cards.flatMap(({ terminals }) => terminals.map(({ net }) => net)));
  const power = board.probePower;
  const terminals: Terminal[] = [
    { name: supplyName, net: supplyName },
    ...(supplyName === '5V' && nets.has('3V3') ? [{ name: '3V3', net: '3V3' }] : []),
    { name: 'GND', net: 'GND' },
  ];
  if (power?.through === 'pin' && nets.has('PWR')) terminals.push({ name: `D${power.pin}`, net: 'PWR' });
  if (nets.has('SDA')) {
    const printed = (pin: string) => (pin.startsWith('A') ? pin : `D${pin}`);
    terminals.push(
      { name: `${printed(model.sda)} SDA`, net: 'SDA' },
      { name: `${printed(model.scl)} SCL`, net: 'SCL' },
    );
  }
  const pins = [...nets].filter((net) => /^[AD]\d+$/.test(net));
  return [...terminals, ...pins.map((net) => ({ name: net, net }))];
}

function wiresOf(boardTerminals: readonly Terminal[], cards: readonly Card[]): Wire[] {
  const sourceOf = new Map(boardTerminals.map(({ name, net }) => [net, `board ${name}`]));
  for (const card of cards)
    for (const { name, net } of card.terminals) {
      const feeds =
        (card.id === SWITCH_CARD && name === 'OUT') ||
        (card.id === 'level-shifter' && name.startsWith('LV') && name !== 'LV') ||
        (card.kind === 'multiplexer' && /^C\d+$/.test(name));
      if (feeds) sourceOf.set(net, `${card.title} ${name}`);
    }
  return cards
    .flatMap((card) =>
      card.terminals.map(({ name, net, cableM, longestM }) => ({
        net,
        to: `${card.title} ${name}`,
        longestM: longestM ?? insideM,
        gaugeMm2: cableM === undefined ? insideMm2 : cableMm2,
      })),
    )
    .filter(({ net, to }) => sourceOf.get(net) !== to)
    .map((wire, index) => ({ ...wire, number: index + 1, from: sourceOf.get(wire.net) ?? wire.net }));
}
