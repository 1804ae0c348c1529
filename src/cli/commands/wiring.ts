import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Command } from 'commander';
import type { ProbeConfig } from '../../../shared/config/probes.js';
import { isW1Probe } from '../../board/hooked-probe.js';
import { wiringAdvice } from '../../board/wiring/advice.js';
import { probesOn } from '../../board/wiring/board-pins.js';
import { SWITCH_CARD } from '../../board/wiring/cards/power-cards.js';
import { ohmText } from '../../board/wiring/component.js';
import type { Conflict } from '../../board/wiring/conflict.js';
import { findConflicts } from '../../board/wiring/conflicts.js';
import { drawDiagram } from '../../board/wiring/draw-diagram.js';
import { drawSwitch } from '../../board/wiring/draw-switch.js';
import { w1PullUpOhm } from '../../board/wiring/part-facts.js';
import { pinTableText } from '../../board/wiring/pin-table.js';
import { planBoard } from '../../board/wiring/wiring-plan.js';
import { writeWhole } from '../../disk/write-whole.js';
import { didYouMean } from '../../watering/sentences/did-you-mean.js';
import { EXIT } from '../exit-status.js';
import { askedFarm } from '../house/asked-config.js';
import { BadWord } from '../house/bad-word.js';
import { refuseReplacing, withForce } from '../house/may-write.js';

interface Options {
  readonly config?: string;
  readonly out: string;
  readonly force?: true;
  readonly board?: string;
}

const EXAMPLES = `
Examples:
  drybell wiring                                       diagrams into this folder
  drybell wiring --config farm.jsonc --out wiring
  drybell wiring --board bench-board`;

/** `drybell wiring`: pin table and drawing of the kit. */
export function register(program: Command): void {
  withForce(program.command('wiring'))
    .description(
      'Draw the kit of a configuration: conflicts first, then wire list and diagram of each board.',
    )
    .option('--config <file>', 'configuration (drybell.jsonc or drybell.json in this folder when absent)')
    .option('--out <folder>', 'where the diagrams go', '.')
    .option('--board <id>', 'only this board')
    .addHelpText('after', EXAMPLES)
    .action((options: Options) => {
      process.exitCode = drawKit(options);
    });
}

/** @returns exit status: 0, or 1 when there are conflicts; what can be drawn is drawn all the same. */
export function drawKit({ config, out, board: only, force }: Options): number {
  const { file: configFile, farm } = askedFarm(config);
  const boards = farm.boards.filter(({ id }) => only === undefined || id === only);
  if (boards.length === 0) {
    const ids = farm.boards.map(({ id }) => id);
    throw new BadWord(
      only === undefined
        ? `${configFile} has no boards; add one under "boards", and a hookup to each probe (hardware/README.md)`
        : `${configFile} has no board "${only}".${didYouMean(only, ids)} Boards are: ${ids.join(', ')}`,
    );
  }
  const conflicts = findConflicts(farm.boards, farm.probes).filter(({ boardId }) =>
    boards.some(({ id }) => id === boardId),
  );
  printConflicts(conflicts);
  for (const { what, sentence } of wiringAdvice({ ...farm, boards }))
    console.log(`Better: ${what}: ${sentence}.`);
  refuseReplacing(
    boards.flatMap(({ id }) =>
      ['wiring-ID.svg', 'wires-ID.txt', 'switch-ID.svg'].map((name) => join(out, name.replace('ID', id))),
    ),
    force,
  );
  mkdirSync(out, { recursive: true });
  for (const board of boards) {
    const plan = planBoard(board, farm.probes);
    const table = pinTableText(plan, probesOn(board, farm.probes));
    console.log(table);
    const file = join(out, `wiring-${board.id}.svg`);
    writeWhole(file, drawDiagram(plan));
    writeWhole(join(out, `wires-${board.id}.txt`), table);
    console.log(`Diagram: ${file}`);
    const slowSwitch = plan.cards.find(({ id }) => id === SWITCH_CARD);
    if (slowSwitch !== undefined) {
      const switchFile = join(out, `switch-${board.id}.svg`);
      writeWhole(switchFile, drawSwitch(board.id, slowSwitch));
      console.log(`Its switch: ${switchFile}`);
    }
    console.log('');
  }
  printW1(farm.probes);
  return conflicts.length > 0 ? EXIT.notWell : EXIT.done;
}

/** Probes that the computer's own kernel reads. */
function printW1(probes: readonly ProbeConfig[]): void {
  const w1 = probes.filter(isW1Probe);
  if (w1.length === 0) return;
  const lineM = Math.max(...w1.map(({ hookup }) => hookup.cableM ?? 0));
  console.log(`On the single-board computer's own pins (${w1.map(({ id }) => id).join(', ')}):`);
  console.log(
    `  DATA of all DS18B20 to GPIO4 (pin 7), one after the other on one line, with one ${ohmText(w1PullUpOhm(lineM))} resistor`,
  );
  console.log('  from DATA to 3V3 (pin 1); VDD to 3V3 (pin 1), GND to GND (pin 9): three wires, never two.');
  console.log('  Never 5 V: these pins bear 3.3 V.\n');
}

function printConflicts(conflicts: readonly Conflict[]): void {
  if (conflicts.length === 0) {
    console.log('No conflicts.\n');
    return;
  }
  console.log(
    `${conflicts.length} conflict${conflicts.length === 1 ? '' : 's'}; do not build before they are gone:\n`,
  );
  conflicts.forEach(({ boardId, problem, remedy }, index) => {
    console.log(
      `${index + 1}. Board ${boardId}: ${problem}.\n   ${remedy[0]?.toUpperCase()}${remedy.slice(1)}.`,
    );
  });
  console.log('');
}
