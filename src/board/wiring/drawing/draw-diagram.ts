import { wireColours } from '../cards/wire-colours.js';
import type { BoardPlan } from '../plan/wiring-plan.js';
import {
  type Layout,
  lanesOf,
  layOut,
  type PlacedCard,
  type PlacedTerminal,
  type Rail,
} from './diagram-layout.js';
import { drawBoard, drawCard, drawFrame, styles } from './draw-cards.js';
import { element, label, wire } from './svg.js';

/** Height of the first line that joins the two groups of rails, above all cards. */
const bridgeTopPx = 70;
const bridgePx = 9;

/** The wiring diagram of one board as an SVG document; the same plan gives the same bytes. */
export function drawDiagram(plan: BoardPlan): string {
  const layout = layOut(plan);
  const colours = wireColours(plan.wires.map(({ net }) => net));
  const css = (net: string): string => colours.get(net)?.css ?? '#444';
  const numberOf = new Map(plan.wires.map(({ number, to }) => [to, number]));
  const tag = (card: PlacedCard, terminal: PlacedTerminal): string => {
    const number = numberOf.get(`${card.card.title} ${terminal.name}`);
    if (number === undefined) return '';
    const x = terminal.x - 20;
    return (
      element('rect', {
        x: x - 10,
        y: terminal.y - 7,
        width: 20,
        height: 14,
        rx: 7,
        class: 'tag',
        stroke: css(terminal.net),
      }) + label(x, terminal.y + 3.5, String(number), { class: 'number' })
    );
  };
  const wires = [...drawRails(layout, css), ...drawSignals(layout, css)];
  const parts = [
    ...wires.filter((one) => !one.includes(dotMark)),
    ...wires.filter((one) => one.includes(dotMark)),
    drawBoard(plan, layout),
    ...[...layout.cards, ...layout.farCards].map((card) => drawCard(card)),
    ...[...layout.cards, ...layout.farCards].flatMap((card) =>
      card.inputs.map((terminal) => tag(card, terminal)),
    ),
    drawFrame(plan, layout, colours),
  ];
  const { widthPx, heightPx } = layout;
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
      element('title', { id: 'title' }, `Wiring of board ${plan.board.id}`),
      element('style', {}, styles),
      element('rect', { width: widthPx, height: heightPx, class: 'paper' }),
      ...parts,
    ].join('\n'),
  )}\n`;
}

function drawRails(layout: Layout, css: (net: string) => string): string[] {
  const out: string[] = [];
  const near = [...layout.boardTerminals, ...layout.cards.flatMap(({ inputs }) => inputs)];
  layout.rails.forEach((rail, index) => {
    const taps = near.filter(({ net }) => net === rail.net);
    const far = layout.farRails.find(({ net }) => net === rail.net);
    const bridgeY = bridgeTopPx + index * bridgePx;
    const ys = [...taps.map(({ y }) => y), ...(far === undefined ? [] : [bridgeY])];
    out.push(
      wire(
        [
          [rail.x, Math.min(...ys)],
          [rail.x, Math.max(...ys)],
        ],
        css(rail.net),
      ),
    );
    if (far !== undefined) {
      const farTaps = layout.farCards.flatMap(({ inputs }) => inputs).filter(({ net }) => net === rail.net);
      const bottom = Math.max(...farTaps.map(({ y }) => y));
      out.push(
        wire(
          [
            [rail.x, bridgeY],
            [far.x, bridgeY],
            [far.x, bottom],
          ],
          css(rail.net),
        ),
      );
      out.push(...farTaps.flatMap((tap) => drawTap(far, tap, css(rail.net))));
    }
    out.push(...taps.flatMap((tap) => drawTap(rail, tap, css(rail.net))));
  });
  return out;
}

/** Class of the dots where a part taps a rail: drawn last, so that no crossing wire covers one. */
const dotMark = 'class="dot"';

function drawTap(rail: Rail, terminal: PlacedTerminal, css: string): string[] {
  return [
    wire(
      [
        [rail.x, terminal.y],
        [terminal.x, terminal.y],
      ],
      css,
    ),
    element('circle', { cx: rail.x, cy: terminal.y, r: 3.6, class: 'dot', fill: css }),
  ];
}

function drawSignals(layout: Layout, css: (net: string) => string): string[] {
  const onRail = new Set(layout.rails.map(({ net }) => net));
  const near = pair(
    layout.boardTerminals.filter(({ net }) => !onRail.has(net)),
    layout.cards.flatMap(({ inputs }) => inputs),
  );
  const far = pair(
    layout.cards.flatMap(({ outputs }) => outputs),
    layout.farCards.flatMap(({ inputs }) => inputs),
  );
  return [...through(near, layout.laneStartPx, css), ...through(far, layout.farLaneStartPx, css)];
}

interface Link {
  readonly net: string;
  readonly from: PlacedTerminal;
  readonly to: PlacedTerminal;
}

function pair(sources: readonly PlacedTerminal[], targets: readonly PlacedTerminal[]): Link[] {
  return sources.flatMap((from) =>
    targets.filter(({ net }) => net === from.net).map((to) => ({ net: from.net, from, to })),
  );
}

function through(links: readonly Link[], startPx: number, css: (net: string) => string): string[] {
  const lanes = lanesOf(
    links.map(({ net, from, to }) => ({ net, fromY: from.y, toY: to.y })),
    startPx,
  );
  return links.map(({ net, from, to }) => {
    const x = lanes.get(net) ?? startPx;
    return wire(
      [
        [from.x, from.y],
        [x, from.y],
        [x, to.y],
        [to.x, to.y],
      ],
      css(net),
    );
  });
}
