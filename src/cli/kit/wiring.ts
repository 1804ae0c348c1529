import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Command } from 'commander';
import type { WiringReport } from '../../../shared/cli-reports.js';
import type { ProbeConfig } from '../../../shared/config/kit/probes.js';
import { isW1Probe } from '../../board/kit/hooked-probe.js';
import { wiringAdvice } from '../../board/wiring/advice.js';
import { ohmText } from '../../board/wiring/cards/component.js';
import { w1PullUpOhm } from '../../board/wiring/cards/part-facts.js';
import { SWITCH_CARD } from '../../board/wiring/cards/power-cards.js';
import { probesOn } from '../../board/wiring/conflicts/board-pins.js';
import type { Conflict } from '../../board/wiring/conflicts/conflict.js';
import { findConflicts } from '../../board/wiring/conflicts/conflicts.js';
import { drawDiagram } from '../../board/wiring/drawing/draw-diagram.js';
import { drawSwitch } from '../../board/wiring/drawing/draw-switch.js';
import { pinTableText } from '../../board/wiring/plan/pin-table.js';
import { planBoard } from '../../board/wiring/plan/wiring-plan.js';
import { writeWhole } from '../../host/disk/write-whole.js';
import { didYouMean } from '../../watering/sentences/words/did-you-mean.js';
import { askedFarm } from '../config/asked-config.js';
import { EXIT } from '../program/exit-status.js';
import { refuseReplacing, withForce } from '../program/may-write.js';
import { printJson, withJson } from '../terminal/json-option.js';
import { BadWord } from '../terminal/typed/bad-word.js';

interface Options {
  readonly config?: string;
  readonly out: string;
  readonly force?: true;
  readonly json?: true;
  readonly board?: string;
}

const EXAMPLES = `
Examples:
  drybell wiring                                       diagrams into this folder
  drybell wiring --config farm.jsonc --out wiring
  drybell wiring --board bench-board`;

/** `drybell wiring`: pin table and drawing of the kit. */
export function register(program: Command): void {
  withJson(withForce(program.command('wiring')), 'wiring-report')
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
export function drawKit({ config, out, board: only, force, json }: Options): number {
  const say = (text: string): void => {
    if (json !== true) console.log(text);
  };
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
  const files: string[] = [];
  const write = (name: string, text: string): string => {
    const file = join(out, name);
    writeWhole(file, text);
    files.push(file);
    return file;
  };
  say(conflictText(conflicts));
  for (const { what, sentence } of wiringAdvice({ ...farm, boards })) say(`Better: ${what}: ${sentence}.`);
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
    say(table);
    const file = write(`wiring-${board.id}.svg`, drawDiagram(plan));
    write(`wires-${board.id}.txt`, table);
    say(`Diagram: ${file}`);
    const slowSwitch = plan.cards.find(({ id }) => id === SWITCH_CARD);
    if (slowSwitch !== undefined)
      say(`Its switch: ${write(`switch-${board.id}.svg`, drawSwitch(board.id, slowSwitch))}`);
    say('');
  }
  const w1 = w1Text(farm.probes);
  if (w1 !== '') say(w1);
  if (json === true)
    printJson({
      conflicts: conflicts.map(({ boardId, place: { probeId }, problem, remedy }) => ({
        board: boardId,
        ...(probeId === undefined ? {} : { probe: probeId }),
        problem,
        remedy,
      })),
      files,
    } satisfies WiringReport);
  return conflicts.length > 0 ? EXIT.notWell : EXIT.done;
}

/** How probes are wired that the computer's own kernel reads; empty without any. */
function w1Text(probes: readonly ProbeConfig[]): string {
  const w1 = probes.filter(isW1Probe);
  if (w1.length === 0) return '';
  const lineM = Math.max(...w1.map(({ hookup }) => hookup.cableM ?? 0));
  return `On the single-board computer's own pins (${w1.map(({ id }) => id).join(', ')}):
  DATA of all DS18B20 to GPIO4 (pin 7), one after the other on one line, with one ${ohmText(w1PullUpOhm(lineM))} resistor
  from DATA to 3V3 (pin 1); VDD to 3V3 (pin 1), GND to GND (pin 9): three wires, never two.
  Never 5 V: these pins bear 3.3 V.
`;
}

function conflictText(conflicts: readonly Conflict[]): string {
  if (conflicts.length === 0) return 'No conflicts.\n';
  const lines = conflicts.map(
    ({ boardId, problem, remedy }, index) =>
      `${index + 1}. Board ${boardId}: ${problem}.\n   ${remedy[0]?.toUpperCase()}${remedy.slice(1)}.`,
  );
  const count = `${conflicts.length} conflict${conflicts.length === 1 ? '' : 's'}`;
  return `${count}; do not build before they are gone:\n\n${lines.join('\n')}\n`;
}
