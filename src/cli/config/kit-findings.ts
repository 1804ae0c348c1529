import type { FarmConfig } from '../../../shared/config/farm.js';
import { wiringAdvice } from '../../board/wiring/advice.js';
import { findConflicts } from '../../board/wiring/conflicts/conflicts.js';
import type { Tried } from './tried.js';

/** Probes that are only named: nothing says how they are read, so they stay silent. */
function unread({ probes }: FarmConfig): readonly Tried[] {
  const silent = probes.filter(({ hookup }) => hookup === undefined);
  if (silent.length === 0) return [];
  const names = silent.map(({ id }) => id).join(', ');
  return [
    {
      what: 'probes',
      ok: true,
      better: true,
      path: ['probes', probes.findIndex(({ hookup }) => hookup === undefined)],
      sentence: `nothing says how ${names} ${silent.length === 1 ? 'is' : 'are'} read: add a "hookup" (board and pin, 1-wire, or who delivers it), or take ${silent.length === 1 ? 'it' : 'them'} out`,
    },
  ];
}

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
    ...unread(config),
    ...wiringAdvice(config).map((advice) => ({ ...advice, ok: true, better: true as const })),
  ];
}
