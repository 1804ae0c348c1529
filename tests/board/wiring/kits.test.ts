import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { farmConfigSchema } from '../../../shared/config/farm.js';
import { isBoardProbe } from '../../../src/board/hooked-probe.js';
import { probesOn } from '../../../src/board/wiring/board-pins.js';
import { findConflicts } from '../../../src/board/wiring/conflicts.js';
import { drawDiagram } from '../../../src/board/wiring/draw-diagram.js';
import { pinTableText } from '../../../src/board/wiring/pin-table.js';
import { planBoard } from '../../../src/board/wiring/wiring-plan.js';
import { parseConfig } from '../../../src/config/load-config.js';
import { demoFarmConfig } from '../../../src/demo/demo-farm.js';

const folder = 'hardware/kits';
const kits = readdirSync(folder).filter((file) => file.endsWith('.json'));

describe('the farms that are shown', () => {
  it('have no conflicts: the example and the demo', () => {
    const example = parseConfig(readFileSync('shared/examples/alder-row.jsonc', 'utf8'), 'alder-row.jsonc');
    for (const { boards, probes } of [example, demoFarmConfig()])
      expect(findConflicts(boards, probes).filter(({ kind }) => kind !== 'board-not-told-apart')).toEqual([]);
  });
});

describe.each(kits)('the kit of %s', (file) => {
  const farm = farmConfigSchema.parse(JSON.parse(readFileSync(join(folder, file), 'utf8')));
  const name = file.replace('.json', '');

  it('has no conflicts', () => {
    expect(findConflicts(farm.boards, farm.probes)).toEqual([]);
  });

  it('wires every terminal of every part once, and every probe with a hookup', () => {
    for (const board of farm.boards) {
      const plan = planBoard(board, farm.probes);
      const ends = plan.wires.map(({ to }) => to);
      expect(new Set(ends).size).toBe(ends.length);
      const known = new Set([
        ...plan.boardTerminals.map((terminal) => `board ${terminal.name}`),
        ...plan.cards.flatMap(({ title, terminals }) =>
          terminals.map((terminal) => `${title} ${terminal.name}`),
        ),
      ]);
      for (const { from, to } of plan.wires) {
        expect(known).toContain(from);
        expect(known).toContain(to);
      }
      const drawn = plan.cards.flatMap(({ title }) => title.split(', '));
      for (const { id } of farm.probes.filter(isBoardProbe).filter(({ hookup }) => hookup.board === board.id))
        expect(drawn).toContain(id);
    }
  });

  it('is drawn in hardware/ as `drybell wiring` draws it now', () => {
    for (const board of farm.boards) {
      const plan = planBoard(board, farm.probes);
      const drawn = readFileSync(`hardware/${name}/wiring-${board.id}.svg`, 'utf8');
      expect(drawDiagram(plan), `run: drybell wiring --config ${folder}/${file} --out hardware/${name}`).toBe(
        drawn,
      );
      const table = readFileSync(`hardware/${name}/wires-${board.id}.txt`, 'utf8');
      expect(pinTableText(plan, probesOn(board, farm.probes))).toBe(table);
    }
  });
});

describe('the guide', () => {
  it('lists the parts of the slow switch as the drawing has them', () => {
    const guide = readFileSync('hardware/README.md', 'utf8');
    const section = guide.slice(
      guide.indexOf('### The slow switch'),
      guide.indexOf('### Enclosure and cables'),
    );
    const farm = farmConfigSchema.parse(JSON.parse(readFileSync(join(folder, 'one-bench.json'), 'utf8')));
    const [board] = farm.boards;
    if (board === undefined) throw new Error('the kit has a board');
    const card = planBoard(board, farm.probes).cards.find(({ id }) => id === 'probe-power');
    const drawn = (card?.components ?? []).map(({ name }) => name.split(',')[0]).sort();
    const listed = [...section.matchAll(/\| (P-MOSFET|[\d.]+ (?:[kM]?Ω|[µn]F))/g)].map(([, name]) => name);
    expect([...listed, 'N-MOSFET'].sort()).toEqual(drawn);
  });
});
