import type { BoardConfig } from '../../../shared/config/hookup.js';
import type { ProbeConfig } from '../../../shared/config/probes.js';
import { boardModels } from '../board-models.js';
import { groupBy } from '../group-by.js';
import { type BoardProbe, partKey } from '../hooked-probe.js';
import { probesOn } from './board-pins.js';
import { i2cAddress, lampResistorOhm, ohmText, partFacts } from './part-facts.js';

export type CardKind = 'moisture' | 'air' | 'light' | 'weight' | 'call' | 'power' | 'multiplexer';

/** A resistor and a probe in series between supply and ground, drawn inside a card. */
export interface Divider {
  readonly upper: string;
  readonly lower: string;
}

/** One thing to be wired, other than the board. */
export interface Card {
  readonly id: string;
  readonly kind: CardKind;
  readonly title: string;
  readonly subtitle: string;
  readonly terminals: readonly Terminal[];
  readonly divider?: Divider;
  readonly note?: string;
  /** The multiplexer that it hangs on, for those that do not hang on the board itself. */
  readonly behind?: string;
}

export interface Terminal {
  readonly name: string;
  /** Wires with one net are joined: "GND", "5V", "PWR", "SDA", "SCL", or a signal of its own. */
  readonly net: string;
}

/** One wire, numbered as in the diagram. */
export interface Wire {
  readonly number: number;
  readonly net: string;
  readonly from: string;
  readonly to: string;
}

export interface BoardPlan {
  readonly board: BoardConfig;
  readonly supplyName: '5V' | '3V3';
  /** Board terminals in the order in which they are drawn. */
  readonly boardTerminals: readonly Terminal[];
  readonly cards: readonly Card[];
  readonly wires: readonly Wire[];
}

/** An open input keeps the charge of the one before, and shows the neighbour's value: with this it shows 0 V. */
const pullDown = '1 MΩ';

/** Plans one board's wiring: every part, every terminal, every wire. */
export function planBoard(board: BoardConfig, probes: readonly ProbeConfig[]): BoardPlan {
  const model = boardModels[board.model];
  const supplyName = model.logicVolts === 5 ? '5V' : '3V3';
  const hung = probesOn(board, probes);
  const powerNet = board.probePower === undefined ? supplyName : 'PWR';
  const cards: Card[] = [
    ...loadSwitchCards(board, supplyName),
    ...multiplexerCards(board, hung, supplyName),
    ...[...groupBy(hung, ({ hookup }) => partKey(hookup)).values()].flatMap((group) =>
      probeCard(group, powerNet, supplyName),
    ),
    ...callCards(board),
  ];
  const boardTerminals = terminalsOf(board, supplyName, cards);
  return { board, supplyName, boardTerminals, cards, wires: wiresOf(boardTerminals, cards) };
}

function loadSwitchCards(board: BoardConfig, supplyName: string): Card[] {
  const power = board.probePower;
  if (power?.through !== 'load-switch') return [];
  return [
    {
      id: 'probe-power',
      kind: 'power',
      title: 'probe power',
      subtitle: 'load switch, on when its input is high',
      terminals: [
        { name: 'IN', net: supplyName },
        { name: 'ON', net: `D${power.pin}` },
        { name: 'GND', net: 'GND' },
        { name: 'OUT', net: 'PWR' },
      ],
      note: '100 kΩ from ON to GND keeps it off while the board starts',
    },
  ];
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
      note: `${pullDown} from SIG to GND`,
    };
  });
}

function probeCard(group: readonly BoardProbe[], powerNet: string, supplyName: string): Card[] {
  const [first] = group;
  if (first === undefined) return [];
  const { hookup } = first;
  const facts = partFacts[hookup.part];
  const title = group.map(({ id }) => id).join(', ');
  const id = first.id;
  if ('input' in hookup) {
    const multiplexer = hookup.input.includes('.') ? hookup.input.split('.')[0] : undefined;
    const supply = { name: 'VCC', net: powerNet };
    const out = { name: 'OUT', net: hookup.input };
    const ground = { name: 'GND', net: 'GND' };
    const common = {
      id,
      title,
      subtitle: facts.name,
      terminals: [supply, out, ground],
      ...(multiplexer === undefined ? {} : { behind: multiplexer }),
    };
    switch (hookup.part) {
      case 'capacitive-moisture':
        return [
          {
            ...common,
            kind: 'moisture',
            ...(multiplexer === undefined ? { note: `${pullDown} from OUT to GND` } : {}),
          },
        ];
      case 'thermistor':
        return [{ ...common, kind: 'air', divider: dividerOf('NTC', hookup.fixedOhm, hookup.side) }];
      case 'photo-resistor':
        return [{ ...common, kind: 'light', divider: dividerOf('LDR', hookup.fixedOhm, hookup.side) }];
      case 'phototransistor':
        return [
          { ...common, kind: 'light', divider: { upper: 'phototransistor', lower: ohmText(hookup.loadOhm) } },
        ];
    }
  }
  const address = i2cAddress(hookup);
  const strap = 'address' in hookup ? facts.strap?.[hookup.address] : undefined;
  const kind = hookup.part === 'load-cell' ? 'weight' : hookup.part === 'bh1750' ? 'light' : 'air';
  return [
    {
      id,
      kind,
      title,
      subtitle: `${facts.name}, 0x${(address ?? 0).toString(16)}`,
      terminals: [
        { name: 'VCC', net: supplyName },
        { name: 'GND', net: 'GND' },
        { name: 'SDA', net: 'SDA' },
        { name: 'SCL', net: 'SCL' },
      ],
      note:
        hookup.part === 'load-cell'
          ? 'load cell: red E+, black E−, green A+, white A− (check its own sheet)'
          : (strap ?? ''),
    },
  ];
}

function dividerOf(probe: string, fixedOhm: number, side: 'ground' | 'supply'): Divider {
  const fixed = ohmText(fixedOhm);
  return side === 'ground' ? { upper: fixed, lower: probe } : { upper: probe, lower: fixed };
}

function callCards(board: BoardConfig): Card[] {
  const { lampPin, buzzerPin, buttonPin } = board.callPost ?? {};
  const ground = { name: '−', net: 'GND' };
  const cards: Card[] = [];
  if (lampPin !== undefined)
    cards.push({
      id: 'call-lamp',
      kind: 'call',
      title: 'call lamp',
      subtitle: `red LED, ${ohmText(lampResistorOhm)} in series with +`,
      terminals: [{ name: '+', net: `D${lampPin}` }, ground],
    });
  if (buzzerPin !== undefined)
    cards.push({
      id: 'buzzer',
      kind: 'call',
      title: 'buzzer',
      subtitle: 'active piezo buzzer, 20 mA at most',
      terminals: [{ name: '+', net: `D${buzzerPin}` }, ground],
    });
  if (buttonPin !== undefined)
    cards.push({
      id: 'acknowledge-button',
      kind: 'call',
      title: 'acknowledge button',
      subtitle: 'push button, closes when pressed',
      terminals: [
        { name: '1', net: `D${buttonPin}` },
        { name: '2', net: 'GND' },
      ],
    });
  return cards;
}

function terminalsOf(board: BoardConfig, supplyName: string, cards: readonly Card[]): Terminal[] {
  const model = boardModels[board.model];
  const nets = new Set(cards.flatMap(({ terminals }) => terminals.map(({ net }) => net)));
  const power = board.probePower;
  const terminals: Terminal[] = [
    { name: supplyName, net: supplyName },
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
        (card.kind === 'power' && name === 'OUT') || (card.kind === 'multiplexer' && /^C\d+$/.test(name));
      if (feeds) sourceOf.set(net, `${card.title} ${name}`);
    }
  return cards
    .flatMap((card) => card.terminals.map(({ name, net }) => ({ net, to: `${card.title} ${name}` })))
    .filter(({ net, to }) => sourceOf.get(net) !== to)
    .map(({ net, to }, index) => ({ number: index + 1, net, from: sourceOf.get(net) ?? net, to }));
}
