import type { FarmConfig } from '../../../shared/config/farm.js';
import { wiringAdvice } from '../../board/wiring/advice.js';
import { findConflicts } from '../../board/wiring/conflicts/conflicts.js';
import type { Tried } from './tried.js';

/** What `drybell wiring` would refuse to build, and what it would build otherwise. */
export function kitFindings(config: FarmConfig): readonly Tried[] {
  const { boards, probes } = config;
  return [
    ...findConflicts(boards, probes).map(({ boardId, place: { probeId, keys }, problem, remedy }) => ({
      what: probeId === undefined ? `board ${boardId}` : `probe ${probeId}`,
      ok: false,
      sentence: `${problem}; ${remedy}`,
      path:
        probeId === undefined
          ? ['boards', boards.findIndex(({ id }) => id === boardId), ...keys]
          : ['probes', probes.findIndex(({ id }) => id === probeId), ...keys],
    })),
    ...wiringAdvice(config).map((advice) => ({ ...advice, ok: true, better: true as const })),
  ];
}
