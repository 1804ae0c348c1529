import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { farmConfigSchema } from '../../../shared/config/farm.js';
import { boardSchema } from '../../../shared/config/kit/hookup.js';
import { isBoardProbe } from '../../../src/board/kit/hooked-probe.js';
import { resistor } from '../../../src/board/wiring/cards/component.js';
import { SWITCH_CARD, switchCards } from '../../../src/board/wiring/cards/power-cards.js';
import { probesOn } from '../../../src/board/wiring/conflicts/board-pins.js';
import { findConflicts } from '../../../src/board/wiring/conflicts/conflicts.js';
import { drawDiagram } from '../../../src/board/wiring/drawing/draw-diagram.js';
import { drawSwitch } from '../../../src/board/wiring/drawing/draw-switch.js';
import { pinTableText } from '../../../src/board/wiring/plan/pin-table.js';
import { planBoard } from '../../../src/board/wiring/plan/wiring-plan.js';
import { parseConfig } from '../../../src/cli/config/load-config.js';
import { demoFarmConfig } from '../../../src/worlds/demo/demo-farm.js';

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
      const slowSwitch = plan.cards.find(({ id }) => id === SWITCH_CARD);
      if (slowSwitch !== undefined)
        expect(drawSwitch(board.id, slowSwitch)).toBe(
          readFileSync(`hardware/${name}/switch-${board.id}.svg`, 'utf8'),
        );
      const table = readFileSync(`hardware/${name}/wires-${board.id}.txt`, 'utf8');
      expect(pinTableText(plan, probesOn(board, farm.probes))).toBe(table);
    }
  });
});

describe('the diagram of the slow switch', () => {
  const board = boardSchema.parse({ id: 'b1', probePower: { pin: 6, through: 'load-switch' } });
  const [card] = switchCards(board, '5V');
  if (card === undefined) throw new Error('a load switch has a card');

  it('says of each part what the netlist has', () => {
    const drawn = drawSwitch('b1', card);
    for (const { name } of card.components) expect(drawn).toContain(`>${name}</text>`);
    expect(drawn).toContain('ON D6');
    const changed = card.components.map((one) =>
      one.amount === 47_000 ? resistor(33_000, one.nodes[0] ?? '', one.nodes[1] ?? '') : one,
    );
    expect(drawSwitch('b1', { ...card, components: changed })).toContain('>33 kΩ</text>');
  });

  it('is not drawn with a part too many or too few, or one that is wired otherwise', () => {
    const more = [...card.components, resistor(1000, 'PWR', 'GND')];
    expect(() => drawSwitch('b1', { ...card, components: more })).toThrow(RangeError);
    expect(() => drawSwitch('b1', { ...card, components: card.components.slice(1) })).toThrow(
      /lacks p-mosfet/,
    );
    const swapped = card.components.map((one) =>
      one.kind === 'p-mosfet' ? { ...one, nodes: [...one.nodes].reverse() } : one,
    );
    expect(() => drawSwitch('b1', { ...card, components: swapped })).toThrow(/no place/);
  });
});

describe('the guide', () => {
  it('lists for each size as many boards, blades and parts as its kit has', () => {
    const guide = readFileSync('hardware/README.md', 'utf8');
    const columns = { 'one-bench.json': 3, 'four-benches.json': 4 };
    for (const [file, column] of Object.entries(columns)) {
      const { boards, probes } = farmConfigSchema.parse(JSON.parse(readFileSync(join(folder, file), 'utf8')));
      const listed = (begins: string): number => {
        const row = guide.split('\n').find((line) => line.startsWith(`| ${begins}`)) ?? '';
        return Number.parseInt(row.split('|')[column] ?? '', 10) || 0;
      };
      const cards = boards.flatMap((board) => planBoard(board, probes).cards);
      const drawn = (name: string): number => cards.filter(({ subtitle }) => subtitle.includes(name)).length;
      const kit = `${file}: boards, blades, multiplexers, references, SHT31, thermistors, BH1750`;
      expect([
        kit,
        listed('board, ATmega328P'),
        listed('blade |'),
        listed('16-channel'),
        listed('2.5 V shunt'),
        listed('SHT31'),
        listed('thermistor'),
        listed('BH1750'),
      ]).toEqual([
        kit,
        boards.length,
        drawn('blade') - drawn('with the blades'),
        drawn('multiplexer'),
        drawn('shunt'),
        drawn('SHT31'),
        drawn('thermistor'),
        drawn('BH1750'),
      ]);
      const onBus = drawn('SHT31') + drawn('BH1750') + drawn('scale');
      expect([kit, listed('for each I2C part')]).toEqual([kit, onBus]);
    }
  });

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
