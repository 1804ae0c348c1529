import type { BoardConfig } from '../../../../shared/config/kit/hookup.js';
import { boardModels } from '../../kit/board-models.js';
import type { BoardHookup, BoardProbe } from '../../kit/hooked-probe.js';
import { cableMOf } from '../../parts/lead.js';
import type { Card, Terminal } from './card.js';
import { type Component, capacitor, fuse, ohmText, resistor } from './component.js';
import { i2cAddress, longestAnalogM, partFacts } from './part-facts.js';
import { inputNanofarad, seriesOhm } from './power-cards.js';

type AnalogHookup = Extract<BoardHookup, { input: string }>;
type BusHookup = Exclude<BoardHookup, AnalogHookup>;

/**
 * An open input keeps the charge of the one before, and shows the neighbour's value: with this it shows 0 V. It stands in
 * parallel with a blade's 36 kohm: 1 Mohm would take 7 points off a dry blade, 10 Mohm take 0.7 (computed).
 */
const pullDownOhm = 10_000_000;

/** The net that feeds a part: the board's supply, switched for analog parts, or the 3V3 pin for a 3.3 V part. */
function feedOf(board: BoardConfig, hookup: BoardHookup): string {
  const { logicVolts } = boardModels[board.model];
  if (logicVolts === 5 && hookup.supplyVolts === 3.3) return '3V3';
  if ('input' in hookup && board.probePower !== undefined) return 'PWR';
  return logicVolts === 5 ? '5V' : '3V3';
}

/** One card for all probes that one part serves. */
export function probeCard(board: BoardConfig, group: readonly BoardProbe[]): Card[] {
  const [first] = group;
  if (first === undefined) return [];
  const { id, hookup } = first;
  const title = group.map((probe) => probe.id).join(', ');
  const feed = feedOf(board, hookup);
  return ['input' in hookup ? analogCard(id, title, hookup, feed) : busCard(board, id, title, hookup, feed)];
}

function analogCard(id: string, title: string, hookup: AnalogHookup, feed: string): Card {
  const { input } = hookup;
  const multiplexer = input.includes('.') ? input.split('.')[0] : undefined;
  const cable = { cableM: cableMOf(hookup), longestM: longestAnalogM };
  const vcc = `${id}/VCC`;
  const out = `${id}/OUT`;
  const common = {
    id,
    title,
    subtitle: partFacts[hookup.part].name,
    ...(multiplexer === undefined ? {} : { behind: multiplexer }),
  };
  const measured = [resistor(seriesOhm, out, input), capacitor(inputNanofarad, input, 'GND')];
  const terminals = (supply: Partial<Terminal>, ground: Partial<Terminal>): Terminal[] => [
    { name: 'VCC', net: feed, ...supply },
    { name: 'OUT', net: input, behindNode: out, ...cable },
    { name: 'GND', net: 'GND', ...ground },
  ];
  const atFuse = { behindNode: vcc, ...cable };
  switch (hookup.part) {
    case 'capacitive-moisture':
      return {
        ...common,
        kind: 'moisture',
        terminals: terminals(atFuse, cable),
        components: [fuse(feed, vcc), ...measured, resistor(pullDownOhm, input, 'GND')],
        note: `1 kΩ in OUT; ${ohmText(pullDownOhm)} and 100 nF behind it to GND; 50 mA fuse in VCC`,
      };
    case 'phototransistor':
      return {
        ...common,
        kind: 'light',
        terminals: terminals(atFuse, {}),
        components: [fuse(feed, vcc), ...measured, resistor(hookup.loadOhm, out, 'GND')],
        divider: { upper: 'phototransistor', lower: ohmText(hookup.loadOhm) },
        note: '1 kΩ in OUT, 100 nF behind it to GND; 50 mA fuse in VCC',
      };
    case 'thermistor':
    case 'photo-resistor':
      return { ...common, ...dividerCard(id, hookup, feed, measured, terminals, atFuse, cable) };
  }
}

function dividerCard(
  id: string,
  hookup: Extract<AnalogHookup, { part: 'thermistor' | 'photo-resistor' }>,
  feed: string,
  measured: readonly Component[],
  terminals: (supply: Partial<Terminal>, ground: Partial<Terminal>) => Terminal[],
  atFuse: Partial<Terminal>,
  cable: Partial<Terminal>,
): Pick<Card, 'kind' | 'terminals' | 'components' | 'divider' | 'note'> {
  const { fixedOhm, side, part } = hookup;
  const out = `${id}/OUT`;
  const fixed = ohmText(fixedOhm);
  const probe = part === 'thermistor' ? 'NTC' : 'LDR';
  const kind = part === 'thermistor' ? 'air' : 'light';
  const end =
    'endOhm' in hookup && hookup.endOhm !== undefined
      ? [resistor(hookup.endOhm, ...endNodes(id, side), `${ohmText(hookup.endOhm)}, at the probe`)]
      : [];
  const endNote = end.length === 0 ? '' : `; ${end[0]?.name ?? ''}`;
  if (side === 'ground')
    return {
      kind,
      terminals: terminals({}, cable),
      components: [resistor(fixedOhm, feed, out), ...measured, ...end],
      divider: { upper: fixed, lower: probe },
      note: `1 kΩ from OUT to the pin, 100 nF there to GND${endNote}`,
    };
  return {
    kind,
    terminals: terminals(atFuse, {}),
    components: [fuse(feed, `${id}/VCC`), resistor(fixedOhm, out, 'GND'), ...measured, ...end],
    divider: { upper: probe, lower: fixed },
    note: `1 kΩ from OUT to the pin, 100 nF there to GND; 50 mA fuse in VCC${endNote}`,
  };
}

/** The far ends of the two leads between which a divider's probe stands. */
export function endNodes(id: string, side: 'ground' | 'supply'): [string, string] {
  return side === 'ground' ? [`${id}:OUT`, `${id}:GND`] : [`${id}:VCC`, `${id}:OUT`];
}

function busCard(board: BoardConfig, id: string, title: string, hookup: BusHookup, feed: string): Card {
  const facts = partFacts[hookup.part];
  const address = i2cAddress(hookup);
  const strap = 'address' in hookup ? facts.strap?.[hookup.address] : undefined;
  const kind = hookup.part === 'load-cell' ? 'weight' : hookup.part === 'bh1750' ? 'light' : 'air';
  const shifted = feed === '3V3' && boardModels[board.model].logicVolts === 5 ? '3' : '';
  // what the pull-ups and the sum of all cables were worked out with
  const cable = { cableM: cableMOf(hookup), longestM: cableMOf(hookup) };
  const notes = [
    hookup.part === 'load-cell'
      ? `cell of ${hookup.capacityKg} kg: red E+, black E−, green A+, white A− (check its own sheet)`
      : (strap ?? ''),
    '50 mA fuse in VCC, 100 nF VCC to GND at the part',
  ];
  return {
    id,
    kind,
    title,
    subtitle: `${facts.name}, 0x${(address ?? 0).toString(16)}`,
    terminals: [
      { name: 'VCC', net: feed, behindNode: `${id}/VCC`, ...cable },
      { name: 'GND', net: 'GND', ...cable },
      { name: 'SDA', net: `SDA${shifted}`, ...cable },
      { name: 'SCL', net: `SCL${shifted}`, ...cable },
    ],
    components: [fuse(feed, `${id}/VCC`), capacitor(inputNanofarad, `${id}:VCC`, `${id}:GND`)],
    note: notes.filter((note) => note !== '').join('; '),
  };
}
