import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { farmConfigSchema } from '../../../shared/config/farm.js';
import { layOut } from '../../../src/board/wiring/drawing/diagram-layout.js';
import { wrapped } from '../../../src/board/wiring/drawing/draw-cards.js';
import { drawDiagram } from '../../../src/board/wiring/drawing/draw-diagram.js';
import { escaped } from '../../../src/board/wiring/drawing/svg.js';
import { planBoard } from '../../../src/board/wiring/plan/wiring-plan.js';

const kits = ['one-tray', 'one-bench', 'four-benches'].map((name) =>
  farmConfigSchema.parse(JSON.parse(readFileSync(`hardware/kits/${name}.json`, 'utf8'))),
);
const plans = kits.flatMap((farm) => farm.boards.map((board) => planBoard(board, farm.probes)));

/** Level wires closer than this read as one. */
const leastPx = 5;

describe('the wiring diagram', () => {
  it('keeps level wires of different nets apart', () => {
    for (const plan of plans) {
      const layout = layOut(plan);
      const near = [...layout.boardTerminals, ...layout.cards.flatMap(({ inputs }) => inputs)];
      const far = [
        ...layout.cards.flatMap(({ outputs }) => outputs),
        ...layout.farCards.flatMap(({ inputs }) => inputs),
      ];
      for (const ends of [near, far])
        for (const one of ends)
          for (const other of ends)
            if (one.net !== other.net) expect(Math.abs(one.y - other.y)).toBeGreaterThanOrEqual(leastPx);
    }
  });

  it('keeps cards apart and everything on the paper', () => {
    for (const plan of plans) {
      const { cards, farCards, widthPx, heightPx } = layOut(plan);
      for (const column of [cards, farCards])
        column.slice(1).forEach((card, index) => {
          const above = column[index];
          expect(card.y).toBeGreaterThan((above?.y ?? 0) + (above?.height ?? 0));
        });
      for (const { x, y, width, height } of [...cards, ...farCards]) {
        expect(x + width).toBeLessThan(widthPx);
        expect(y + height).toBeLessThan(heightPx);
      }
    }
  });

  it('shows each wire number once, and has a name for who can not see it', () => {
    for (const plan of plans) {
      const svg = drawDiagram(plan);
      const numbers = [...svg.matchAll(/class="number">(\d+)</g)].map((match) => Number(match[1]));
      expect(numbers.sort((a, b) => a - b)).toEqual(plan.wires.map(({ number }) => number));
      expect(svg).toContain(`<title id="title">Wiring of board ${plan.board.id}</title>`);
    }
  });

  it('escapes and wraps text', () => {
    expect(escaped('R < 10 & "x"')).toBe('R &lt; 10 &amp; &quot;x&quot;');
    expect(wrapped('one two three', 8)).toEqual(['one two', 'three']);
  });
});
