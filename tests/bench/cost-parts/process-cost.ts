import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';

/** What the kernel counts for a process. */
export interface ProcessCost {
  readonly residentMb: number;
  readonly processorS: number;
  /** Bytes that it had written to the disk, logs and checkpoints included; a page written twice in between counts once. */
  readonly writtenBytes: number;
}

const TICKS_PER_S = Number(execFileSync('getconf', ['CLK_TCK'], { encoding: 'utf8' }));
/** proc(5): fields 14 and 15 of stat, counted after the name in brackets. */
const USER_TICKS = 11;
const SYSTEM_TICKS = 12;

function numberIn(file: string, name: string): number {
  return Number(new RegExp(`^${name}:\\s*(\\d+)`, 'm').exec(readFileSync(file, 'utf8'))?.[1]);
}

export function costOfProcess(pid: number): ProcessCost {
  const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
  const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
  return {
    residentMb: numberIn(`/proc/${pid}/status`, 'VmRSS') / 1024,
    processorS: (Number(fields[USER_TICKS]) + Number(fields[SYSTEM_TICKS])) / TICKS_PER_S,
    writtenBytes: numberIn(`/proc/${pid}/io`, 'write_bytes'),
  };
}
