import type { Card } from '../cards/card.js';
import type { Component } from '../cards/component.js';
import { element, label } from './svg.js';

const widthPx = 800;
const heightPx = 520;
const railTopY = 96;
const railBottomY = 430;
const gateY = 215;
const outY = 290;
const baseY = 350;

/** Where a part stands: its two ends, or the middle of a MOSFET's channel. Ends are in the order of `nodes`. */
type Stand =
  | { readonly kind: 'upright'; readonly x: number; readonly fromY: number; readonly toY: number }
  | { readonly kind: 'level'; readonly y: number; readonly fromX: number; readonly toX: number }
  | { readonly kind: 'p-mosfet' | 'n-mosfet'; readonly x: number; readonly y: number };

/** The place of each part in the picture, by its kind and the points between which it lies; IN, ON and OUT are the card's terminals. */
const stands: Readonly<Record<string, Stand>> = {
  'capacitor IN GND': { kind: 'upright', x: 80, fromY: railTopY, toY: railBottomY },
  'resistor ON base': { kind: 'level', y: baseY, fromX: 150, toX: 270 },
  'resistor base GND': { kind: 'upright', x: 270, fromY: baseY, toY: railBottomY },
  'n-mosfet drain base GND': { kind: 'n-mosfet', x: 350, y: baseY },
  'resistor gate drain': { kind: 'upright', x: 362, fromY: gateY, toY: baseY - 34 },
  'resistor IN gate': { kind: 'upright', x: 362, fromY: railTopY, toY: gateY },
  'capacitor IN gate': { kind: 'upright', x: 450, fromY: railTopY, toY: gateY },
  'capacitor gate OUT': { kind: 'upright', x: 530, fromY: gateY, toY: outY },
  'p-mosfet OUT gate IN': { kind: 'p-mosfet', x: 610, y: gateY },
  'resistor OUT GND': { kind: 'upright', x: 690, fromY: outY, toY: railBottomY },
};

/** Lines that join the points, beside the parts' own legs. */
const joins = [
  `M40 ${railTopY} H622`,
  `M40 ${railBottomY} H690`,
  `M362 ${gateY} H596`,
  `M530 ${outY} H740`,
  `M270 ${baseY} H336`,
  `M100 ${baseY} H150`,
];
const dots: readonly (readonly [number, number])[] = [
  [80, railTopY],
  [362, railTopY],
  [450, railTopY],
  [622, railTopY],
  [80, railBottomY],
  [270, railBottomY],
  [362, railBottomY],
  [690, railBottomY],
  [362, gateY],
  [450, gateY],
  [530, gateY],
  [622, outY],
  [690, outY],
  [270, baseY],
];

const styles = [
  'text{font-family:"DejaVu Sans",Verdana,sans-serif;fill:#23302f;font-size:12px}',
  '.paper{fill:#faf7ef}',
  '.lead{fill:none;stroke:#23302f;stroke-width:1.6}',
  '.thick{fill:none;stroke:#23302f;stroke-width:3}',
  '.part{fill:#fff;stroke:#23302f;stroke-width:1.6}',
  '.solid{fill:#23302f}',
  '.leg{font-size:10.5px}',
  '.end{font-weight:bold}',
  '.caution{font-weight:bold;fill:#8f2a20;font-size:11.5px}',
].join('');

const lead = (d: string, css = 'lead'): string => element('path', { d, class: css });

/** Electrolytic from here on, farad: its plus is drawn. */
const polarFarad = 10e-6;

function upright({ kind, amount, name }: Component, x: number, fromY: number, toY: number): string {
  const midY = (fromY + toY) / 2;
  const text = label(x + 16, midY + 4, name);
  if (kind === 'resistor')
    return [
      lead(`M${x} ${fromY} V${midY - 20} M${x} ${midY + 20} V${toY}`),
      element('rect', { x: x - 8, y: midY - 20, width: 16, height: 40, class: 'part' }),
      text,
    ].join('\n');
  return [
    lead(`M${x} ${fromY} V${midY - 4} M${x} ${midY + 4} V${toY}`),
    lead(`M${x - 14} ${midY - 4} H${x + 14} M${x - 14} ${midY + 4} H${x + 14}`, 'thick'),
    ...(amount >= polarFarad ? [label(x - 26, midY - 8, '+', { class: 'end' })] : []),
    label(x + 20, midY + 4, name),
  ].join('\n');
}

function level({ name }: Component, y: number, fromX: number, toX: number): string {
  const midX = (fromX + toX) / 2;
  return [
    lead(`M${fromX} ${y} H${midX - 20} M${midX + 20} ${y} H${toX}`),
    element('rect', { x: midX - 20, y: y - 8, width: 40, height: 16, class: 'part' }),
    label(midX, y - 14, name, { 'text-anchor': 'middle' }),
  ].join('\n');
}

/** Symbol of an enhancement MOSFET (IEC 60617-5), gate on the left; of a P type the source is above, of an N type below. */
function mosfet(kind: 'p-mosfet' | 'n-mosfet', name: string, x: number, y: number): string {
  const right = x + 12;
  const isP = kind === 'p-mosfet';
  const [upper, lower] = isP ? ['S', 'D'] : ['D', 'S'];
  const topY = isP ? railTopY : y - 34;
  const bottomY = isP ? outY : railBottomY;
  // the arrow of the substrate points at an N channel and away from a P channel; in both the body's diode lets current upwards only
  const arrow = isP ? `M${right} ${y} l-8 -4 v8 Z` : `M${x - 4} ${y} l8 -4 v8 Z`;
  const diodeX = right + 14;
  return [
    lead(`M${x - 14} ${y} H${x - 10}`),
    lead(`M${x - 10} ${y - 14} V${y + 14}`, 'thick'),
    lead(`M${x - 4} ${y - 18} V${y - 8} M${x - 4} ${y - 5} V${y + 5} M${x - 4} ${y + 8} V${y + 18}`, 'thick'),
    lead(`M${x - 4} ${y - 13} H${right} V${topY} M${x - 4} ${y + 13} H${right} V${bottomY}`),
    lead(`M${x - 4} ${y} H${right} V${isP ? y - 13 : y + 13}`),
    element('path', { d: arrow, class: 'solid' }),
    lead(`M${right} ${y - 22} H${diodeX} V${y + 22} H${right}`),
    element('path', { d: `M${diodeX} ${y - 6} l-6 10 h12 Z`, class: 'solid' }),
    lead(`M${diodeX - 7} ${y - 6} h14`, 'thick'),
    label(right + 5, y - 26, upper, { class: 'leg' }),
    label(right + 5, y + 36, lower, { class: 'leg' }),
    label(x - 26, y + 18, 'G', { class: 'leg' }),
    label(diodeX + 12, y + 4, name),
  ].join('\n');
}

function drawPart(component: Component, stand: Stand): string {
  switch (stand.kind) {
    case 'upright':
      return upright(component, stand.x, stand.fromY, stand.toY);
    case 'level':
      return level(component, stand.y, stand.fromX, stand.toX);
    case 'p-mosfet':
    case 'n-mosfet':
      return mosfet(stand.kind, component.name, stand.x, stand.y);
  }
}

/**
 * Circuit diagram of the slow high-side switch, drawn from the parts of its card: the same from which its netlist is made.
 * @throws RangeError when the card has a part that has no place here, or lacks one that has
 */
export function drawSwitch(boardId: string, card: Card): string {
  const netOf = (name: string): string =>
    card.terminals.find((terminal) => terminal.name === name)?.net ?? '';
  const pointOf = (node: string): string => {
    const name = ['IN', 'ON', 'OUT'].find((terminal) => netOf(terminal) === node);
    return name ?? node.replace(`${card.id}/`, '');
  };
  const left = new Set(Object.keys(stands));
  const parts = card.components.map((component) => {
    const where = [component.kind, ...component.nodes.map(pointOf)].join(' ');
    const stand = stands[where];
    if (stand === undefined || !left.delete(where))
      throw new RangeError(`no place in the diagram for ${where}`);
    return drawPart(component, stand);
  });
  if (left.size > 0) throw new RangeError(`the switch lacks ${[...left].join(', ')}`);
  const title = `The slow switch of board ${boardId}`;
  const end = (x: number, y: number, text: string, anchor: 'start' | 'end' = 'start'): string =>
    element('circle', { cx: x, cy: y, r: 4, class: 'part' }) +
    label(anchor === 'start' ? x - 8 : x + 8, y - 10, text, { class: 'end', 'text-anchor': anchor });
  return `${element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${widthPx} ${heightPx}`,
      width: widthPx,
      height: heightPx,
      role: 'img',
      'aria-labelledby': 'title',
    },
    [
      element('title', { id: 'title' }, title),
      element('style', {}, styles),
      element('rect', { width: widthPx, height: heightPx, class: 'paper' }),
      label(32, 40, title, { 'font-size': '20px', class: 'end' }),
      label(
        32,
        60,
        'Off while ON is low; opens within some 20 ms. S source, D drain, G gate: the order of the legs is in the data sheet.',
      ),
      ...joins.map((d) => lead(d)),
      ...parts,
      ...dots.map(([cx, cy]) => element('circle', { cx, cy, r: 3.4, class: 'solid' })),
      end(40, railTopY, `IN ${netOf('IN')}`),
      end(100, baseY, `ON ${netOf('ON')}`),
      end(740, outY, 'OUT probe power', 'end'),
      end(40, railBottomY, 'GND'),
      label(
        32,
        heightPx - 40,
        'Extra-low voltage only: 5 V from one listed USB supply. Unplug before wiring. Plus of the 100 µF at IN.',
        { class: 'caution' },
      ),
    ].join('\n'),
  )}\n`;
}
