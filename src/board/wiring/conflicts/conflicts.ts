import type { BoardConfig } from '../../../../shared/config/kit/hookup.js';
import type { ProbeConfig } from '../../../../shared/config/kit/probes.js';
import { pinClaims, probesOn } from './board-pins.js';
import type { Conflict } from './conflict.js';
import { pinConflicts } from './pin-conflicts.js';
import { currentConflicts } from './power-conflicts.js';
import { signalConflicts } from './signal-conflicts.js';

/** Everything that would not work, or would do harm, when the kit is built as configured. */
export function findConflicts(
  boards: readonly BoardConfig[],
  probes: readonly ProbeConfig[],
): readonly Conflict[] {
  const conflicts: Conflict[] = [];
  for (const board of boards) {
    const hung = probesOn(board, probes);
    conflicts.push(
      ...pinConflicts(board, hung, pinClaims(board, hung)),
      ...currentConflicts(board, hung),
      ...signalConflicts(board, hung),
    );
  }
  if (boards.length > 1)
    for (const board of boards)
      if (board.serialNumber === undefined && board.port === undefined)
        conflicts.push({
          kind: 'board-not-told-apart',
          boardId: board.id,
          place: { keys: [] },
          problem: `with ${boards.length} boards nothing says which one is ${board.id}`,
          remedy:
            'plug them in one by one, run `drybell probes --boards`, and give each board its serialNumber',
        });
  return conflicts;
}
