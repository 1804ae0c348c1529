import type { Card, Terminal } from '../cards/card.js';
import type { BoardPlan } from '../plan/wiring-plan.js';

/**
 * Inputs of cards stand 8 or 18 px into this grid, rows of the board and outputs of cards 13: no two level wires run on top of each other.
 */
const rowPx = 20;
/** Rows with a resistor and a probe between them. */
const dividerRowPx = 30;
const leastWidthPx = 760;
const cardTopPx = 40;
const cardGapPx = 12;
const cardWidthPx = 250;
const boardWidthPx = 150;
const railPx = 16;
const lanePx = 10;
const topPx = 120;
const leftPx = 32;

/** Nets that many parts share: drawn as rails that parts tap. */
const railNets: readonly string[] = ['GND', '5V', '3V3', 'PWR', 'SDA', 'SCL', 'SDA3', 'SCL3'];

export interface PlacedTerminal extends Terminal {
  readonly x: number;
  readonly y: number;
}

export interface PlacedCard {
  readonly card: Card;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly lastRowY: number;
  /** On the left edge. */
  readonly inputs: readonly PlacedTerminal[];
  /** On the right edge: a multiplexer's channels. */
  readonly outputs: readonly PlacedTerminal[];
}

export interface Rail {
  readonly net: string;
  readonly x: number;
}

export interface Layout {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly board: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
  readonly boardTerminals: readonly PlacedTerminal[];
  readonly rails: readonly Rail[];
  /** Rails again, between a multiplexer and the probes behind it. */
  readonly farRails: readonly Rail[];
  readonly cards: readonly PlacedCard[];
  readonly farCards: readonly PlacedCard[];
  readonly laneStartPx: number;
  readonly farLaneStartPx: number;
}

function isChannel(card: Card, terminal: Terminal): boolean {
  return card.kind === 'multiplexer' && /^C\d+$/.test(terminal.name);
}

/** Places board, rails and cards: board left, what hangs on it in the middle, what hangs on multiplexers right. */
export function layOut(plan: BoardPlan): Layout {
  const near = plan.cards.filter(({ behind }) => behind === undefined);
  const far = plan.cards.filter(({ behind }) => behind !== undefined);
  const used = new Set(near.flatMap(({ terminals }) => terminals.map(({ net }) => net)));
  const farUsed = new Set(far.flatMap(({ terminals }) => terminals.map(({ net }) => net)));
  const railsFrom = leftPx + boardWidthPx + 34;
  const rails = railNets
    .filter((net) => used.has(net) || farUsed.has(net))
    .map((net, index) => ({ net, x: railsFrom + index * railPx }));
  const laneStartPx = railsFrom + rails.length * railPx + 8;
  const laneCount = plan.boardTerminals.filter(({ net }) => !railNets.includes(net)).length;
  const cardX = laneStartPx + laneCount * lanePx + 40;
  const cards = stack(near, cardX);
  const farRailsFrom = cardX + cardWidthPx + 26;
  const farRails = railNets
    .filter((net) => farUsed.has(net))
    .map((net, index) => ({ net, x: farRailsFrom + index * railPx }));
  const farLaneStartPx = farRailsFrom + farRails.length * railPx + 8;
  const farX = farLaneStartPx + far.length * lanePx + 40;
  const farCards = stack(far, farX);
  const board = {
    x: leftPx,
    y: topPx,
    width: boardWidthPx,
    height: 56 + plan.boardTerminals.length * rowPx,
  };
  const boardTerminals = plan.boardTerminals.map((terminal, index) => ({
    ...terminal,
    x: leftPx + boardWidthPx,
    y: topPx + 53 + index * rowPx,
  }));
  const bottoms = [board.y + board.height, ...[...cards, ...farCards].map(({ y, height }) => y + height)];
  return {
    widthPx: Math.max(leastWidthPx, (far.length > 0 ? farX : cardX) + cardWidthPx + leftPx),
    heightPx: Math.max(...bottoms) + 110,
    board,
    boardTerminals,
    rails,
    farRails,
    cards,
    farCards,
    laneStartPx,
    farLaneStartPx,
  };
}

function stack(cards: readonly Card[], x: number): PlacedCard[] {
  let y = topPx;
  return cards.map((card) => {
    const inputs = card.terminals.filter((terminal) => !isChannel(card, terminal));
    const outputs = card.terminals.filter((terminal) => isChannel(card, terminal));
    const rows = Math.max(inputs.length, outputs.length);
    const noteRows = card.note === undefined || card.note === '' ? 0 : Math.ceil(card.note.length / 42);
    const pitchPx = card.divider === undefined ? rowPx : dividerRowPx;
    const lastRowPx = cardTopPx + 8 + (rows - 1) * pitchPx;
    const height = lastRowPx + 16 + noteRows * 14;
    const place = (terminal: Terminal, index: number, atX: number, topOfRowsPx: number): PlacedTerminal => ({
      ...terminal,
      x: atX,
      y: y + topOfRowsPx + index * pitchPx,
    });
    const placed = {
      card,
      x,
      y,
      width: cardWidthPx,
      height,
      lastRowY: y + lastRowPx,
      inputs: inputs.map((terminal, index) => place(terminal, index, x, cardTopPx + 8)),
      outputs: outputs.map((terminal, index) => place(terminal, index, x + cardWidthPx, cardTopPx + 13)),
    };
    y += Math.ceil((height + cardGapPx) / rowPx) * rowPx;
    return placed;
  });
}

/**
 * A lane of its own for each signal, so that wires which go down do not cross: the first to leave takes the outermost lane.
 * @returns x of each net's lane
 */
export function lanesOf(
  links: readonly { readonly net: string; readonly fromY: number; readonly toY: number }[],
  startPx: number,
): ReadonlyMap<string, number> {
  const down = links.filter(({ fromY, toY }) => toY >= fromY).sort((a, b) => b.fromY - a.fromY);
  const up = links.filter(({ fromY, toY }) => toY < fromY).sort((a, b) => a.fromY - b.fromY);
  return new Map([...up, ...down].map(({ net }, index) => [net, startPx + index * lanePx]));
}
