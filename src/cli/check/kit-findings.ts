import type { FarmConfig } from '../../../shared/config/farm.js';
import { findConflicts } from '../../board/wiring/conflicts.js';
import type { Tried } from './tried.js';

/** What `drybell wiring` would refuse to build. */
export function kitFindings({ boards, probes }: FarmConfig): readonly Tried[] {
  return findConflicts(boards, probes).map(({ boardId, problem, remedy }) => ({
    what: `board ${boardId}`,
    ok: false,
    sentence: `${problem}; ${remedy}`,
    path: ['boards', boards.findIndex(({ id }) => id === boardId)],
  }));
}
