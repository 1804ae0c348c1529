import type { FarmConfig } from '../../../shared/config/farm.js';
import { wiringAdvice } from '../../board/wiring/advice.js';
import { findConflicts } from '../../board/wiring/conflicts.js';
import type { Tried } from './tried.js';

/** What `drybell wiring` would refuse to build, and what it would build otherwise. */
export function kitFindings(config: FarmConfig): readonly Tried[] {
  const { boards, probes } = config;
  return [
    ...findConflicts(boards, probes).map(({ boardId, problem, remedy }) => ({
      what: `board ${boardId}`,
      ok: false,
      sentence: `${problem}; ${remedy}`,
      path: ['boards', boards.findIndex(({ id }) => id === boardId)],
    })),
    ...wiringAdvice(config).map((advice) => ({ ...advice, ok: true, better: true as const })),
  ];
}
