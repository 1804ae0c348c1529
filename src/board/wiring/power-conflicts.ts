import type { BoardConfig } from '../../../shared/config/hookup.js';
import { boardModels } from '../board-models.js';
import { type BoardProbe, partKey } from '../hooked-probe.js';
import type { Conflict } from './conflict.js';
import { buzzerMa, lampMa, multiplexerMa, partFacts } from './part-facts.js';

/** Milliampere that the switched probes draw together. */
export function switchedMa(hung: readonly BoardProbe[]): number {
  return hung
    .filter(({ hookup }) => 'input' in hookup)
    .reduce((sum, { hookup }) => sum + partFacts[hookup.part].drawMa, 0);
}

/** Milliampere that a board takes from its USB port when everything is on. */
export function boardMa(board: BoardConfig, hung: readonly BoardProbe[]): number {
  const onBus = new Map(
    hung.filter(({ hookup }) => !('input' in hookup)).map(({ hookup }) => [partKey(hookup), hookup]),
  );
  const bus = [...onBus.values()].reduce((sum, hookup) => sum + partFacts[hookup.part].drawMa, 0);
  const post = board.callPost;
  return (
    boardModels[board.model].ownMa +
    switchedMa(hung) +
    board.multiplexers.length * multiplexerMa +
    bus +
    (post?.lampPin === undefined ? 0 : lampMa) +
    (post?.buzzerPin === undefined ? 0 : buzzerMa)
  );
}

/** More than a pin or a USB port gives. */
export function currentConflicts(board: BoardConfig, hung: readonly BoardProbe[]): Conflict[] {
  const conflicts: Conflict[] = [];
  const model = boardModels[board.model];
  const switched = switchedMa(hung);
  if (board.probePower?.through === 'pin' && switched > model.pinMa)
    conflicts.push({
      kind: 'over-pin-current',
      boardId: board.id,
      problem: `the switched probes draw ${switched} mA, and pin ${board.probePower.pin} gives ${model.pinMa} mA for good`,
      remedy: 'feed them through a load switch: probePower "through": "load-switch"',
    });
  const total = boardMa(board, hung);
  if (total > board.usbBudgetMa)
    conflicts.push({
      kind: 'over-usb-budget',
      boardId: board.id,
      problem: `board and probes draw ${total} mA, and its USB port may give ${board.usbBudgetMa} mA`,
      remedy: 'put it on a powered hub and raise usbBudgetMa, or move probes to a second board',
    });
  return conflicts;
}

/** Signals that a board's pins do not bear. */
export function voltageConflicts(board: BoardConfig, hung: readonly BoardProbe[]): Conflict[] {
  const { logicVolts } = boardModels[board.model];
  const conflicts: Conflict[] = [];
  if (logicVolts === 3.3)
    for (const { id, hookup } of hung)
      if (hookup.supplyVolts === 5)
        conflicts.push({
          kind: 'five-volts-into-three',
          boardId: board.id,
          problem: `probe ${id} is fed with 5 V, and its signal goes into a 3.3 V board`,
          remedy:
            'input' in hookup
              ? 'feed it from 3V3 (supplyVolts 3.3); if it needs 5 V, bring its signal down with 10 kΩ in series and 18 kΩ to GND'
              : 'feed it from 3V3 (supplyVolts 3.3); if it needs 5 V, put a two-way level shifter into SDA and SCL',
        });
  if (board.referenceVolts !== undefined && board.referenceVolts > logicVolts * 1.1)
    conflicts.push({
      kind: 'five-volts-into-three',
      boardId: board.id,
      problem: `referenceVolts is ${board.referenceVolts} V on a ${logicVolts} V board`,
      remedy: `measure between ${logicVolts === 5 ? '5V' : '3V3'} and GND again; ${logicVolts} V is expected`,
    });
  return conflicts;
}
