import type { CardKind, Divider } from '../cards/card.js';
import type { WireColour } from '../cards/wire-colours.js';
import type { BoardPlan } from '../plan/wiring-plan.js';
import type { Layout, PlacedCard, PlacedTerminal } from './diagram-layout.js';
import { element, label } from './svg.js';

const bandCss: { readonly [K in CardKind]: string } = {
  moisture: '#4f8f5b',
  air: '#c77b43',
  light: '#d5a92c',
  weight: '#6d6198',
  call: '#ad4250',
  power: '#e0801f',
  multiplexer: '#40606b',
};

export const styles = [
  'text{font-family:"DejaVu Sans",Verdana,sans-serif;fill:#23302f}',
  '.paper{fill:#faf7ef}',
  '.wire{fill:none;stroke-width:2.6;stroke-linejoin:round;stroke-linecap:round}',
  '.edge{fill:none;stroke:#faf7ef;stroke-width:6;stroke-linejoin:round}',
  '.card{fill:#fff;stroke:#b9b3a3;stroke-width:1}',
  '.board{fill:#29434b}',
  '.onboard{fill:#f3efe2}',
  '.title{font-size:13px;font-weight:bold}',
  '.small{font-size:10.5px}',
  '.pin{font-size:11px;font-family:"DejaVu Sans Mono",monospace}',
  '.number{font-size:9.5px;text-anchor:middle;font-weight:bold}',
  '.tag{fill:#fff;stroke-width:1.6}',
  '.part{fill:#fff;stroke:#23302f;stroke-width:1.3}',
  '.lead{fill:none;stroke:#23302f;stroke-width:1.3}',
  '.caution{font-size:11.5px;font-weight:bold;fill:#8f2a20}',
].join('');

export function drawBoard(plan: BoardPlan, layout: Layout): string {
  const { x, y, width, height } = layout.board;
  return [
    element('rect', { x: x + 22, y: y - 24, width: 46, height: 30, rx: 3, fill: '#9aa4a3' }),
    label(x, y - 30, `USB, 5 V, up to ${plan.board.usbBudgetMa} mA`, { class: 'small' }),
    element('rect', { x, y, width, height, rx: 10, class: 'board' }),
    label(x + 14, y + 22, `board ${plan.board.id}`, { class: 'title onboard' }),
    label(x + 14, y + 38, plan.board.model, { class: 'small onboard' }),
    ...layout.boardTerminals.flatMap((terminal) => drawPin(terminal, 'onboard', 'before')),
  ].join('\n');
}

function drawPin(terminal: PlacedTerminal, css: string, side: 'before' | 'after'): string[] {
  const { x, y, name } = terminal;
  return [
    element('rect', { x: x - 4, y: y - 4, width: 8, height: 8, rx: 1.5, fill: '#d9b44a', stroke: '#6e5a1f' }),
    side === 'after'
      ? label(x + 12, y + 4, name, { class: `pin ${css}` })
      : label(x - 10, y + 4, name, { class: `pin ${css}`, 'text-anchor': 'end' }),
  ];
}

export function drawCard(placed: PlacedCard): string {
  const { card, x, y, width, height } = placed;
  return [
    element('rect', { x, y, width, height, rx: 7, class: 'card' }),
    element('path', {
      d: `M${x + 7} ${y} H${x + width - 7} Q${x + width} ${y} ${x + width} ${y + 7} H${x} Q${x} ${y} ${x + 7} ${y}`,
      fill: bandCss[card.kind],
    }),
    label(x + 14, y + 22, card.title, { class: 'title' }),
    label(x + 14, y + 36, card.subtitle, { class: 'small' }),
    ...placed.inputs.flatMap((terminal) => drawPin(terminal, '', 'after')),
    ...placed.outputs.flatMap((terminal) => drawPin(terminal, '', 'before')),
    card.divider === undefined ? '' : drawDivider(card.divider, placed),
    ...wrapped(card.note ?? '').map((line, index) =>
      label(x + 14, placed.lastRowY + 20 + index * 14, line, { class: 'small' }),
    ),
  ].join('\n');
}

/** Supply, resistor or probe, input, resistor or probe, ground: three rows of a card joined by two boxes. */
function drawDivider({ upper, lower }: Divider, placed: PlacedCard): string {
  const [top, middle, bottom] = placed.inputs;
  if (top === undefined || middle === undefined || bottom === undefined) return '';
  const x = placed.x + 132;
  const box = (centreY: number, text: string): string =>
    element('rect', { x: x - 44, y: centreY - 7.5, width: 88, height: 15, rx: 2, class: 'part' }) +
    label(x, centreY + 3.5, text, { class: 'small', 'text-anchor': 'middle' });
  return [
    element('path', {
      d: `M${placed.x + 46} ${top.y} H${x} V${bottom.y} H${placed.x + 46} M${placed.x + 46} ${middle.y} H${x}`,
      class: 'lead',
    }),
    box((top.y + middle.y) / 2, upper),
    box((middle.y + bottom.y) / 2, lower),
    element('circle', { cx: x, cy: middle.y, r: 2.6, fill: '#23302f' }),
  ].join('\n');
}

/** Lines of at most 40 letters, which is what a card holds. */
export function wrapped(text: string, lettersPerLine = 40): string[] {
  const lines: string[] = [];
  for (const word of text.split(' ').filter((one) => one.length > 0)) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= lettersPerLine)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}

/** Title, colour key and caution. */
export function drawFrame(plan: BoardPlan, layout: Layout, colours: ReadonlyMap<string, WireColour>): string {
  const bottom = layout.heightPx - 74;
  const rails = layout.rails.map(({ net }) => ({ net, colour: colours.get(net) }));
  return [
    label(32, 38, `Wiring of board ${plan.board.id}`, { 'font-size': '20px', 'font-weight': 'bold' }),
    label(32, 57, `${plan.wires.length} wires; numbers as in the wire list. Lines join only at a dot.`, {
      class: 'small',
    }),
    ...rails.flatMap(({ net, colour }, index) => [
      element('rect', {
        x: 32 + index * 150,
        y: bottom,
        width: 20,
        height: 6,
        rx: 3,
        fill: colour?.css ?? '#444',
      }),
      label(58 + index * 150, bottom + 7, `${net === 'PWR' ? 'probe power' : net} ${colour?.name ?? ''}`, {
        class: 'small',
      }),
    ]),
    label(
      32,
      bottom + 32,
      'Extra-low voltage only. One listed USB supply, on a GFCI/RCD-protected outlet, outside the wet zone.',
      {
        class: 'caution',
      },
    ),
    label(32, bottom + 50, 'Unplug before wiring. Nothing here may switch or carry mains.', {
      class: 'caution',
    }),
  ].join('\n');
}
