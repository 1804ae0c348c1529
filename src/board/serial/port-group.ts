import { readFile, stat } from 'node:fs/promises';

/** The group that may open a serial port on most Linux systems; some name it otherwise. */
const usualGroup = 'dialout';

/** Name of the group that owns a serial port, as whoever may not open it has to join that. */
export async function portGroup(port: string, groupFile = '/etc/group'): Promise<string> {
  try {
    const { gid } = await stat(port);
    return groupNamed(await readFile(groupFile, 'utf8'), gid) ?? usualGroup;
  } catch (cause) {
    if (cause instanceof Error && 'code' in cause) return usualGroup;
    throw cause;
  }
}

/** Line of /etc/group with this number: `name:password:number:members`. Root's own group is no advice. */
export function groupNamed(groups: string, gid: number): string | undefined {
  if (gid === 0) return undefined;
  return groups
    .split('\n')
    .map((line) => line.split(':'))
    .find((fields) => fields[2] === String(gid))?.[0];
}
