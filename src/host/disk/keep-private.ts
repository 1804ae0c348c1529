import { chmodSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';

const OTHERS = 0o077;

function closeToOthers(path: string): void {
  const mode = statSync(path, { throwIfNoEntry: false })?.mode;
  if (mode === undefined || (mode & OTHERS) === 0) return;
  try {
    chmodSync(path, mode & ~OTHERS & 0o7777);
  } catch (cause) {
    // it belongs to somebody else, whose business it is then
    if (!(cause instanceof Error && 'code' in cause && ['EPERM', 'EROFS'].includes(String(cause.code))))
      throw cause;
  }
}

/** From now on what this process makes is for its user alone, and so is this folder with what lies in it. */
export function keepPrivate(folder: string): void {
  process.umask(process.umask() | OTHERS);
  if (statSync(folder, { throwIfNoEntry: false }) === undefined) return;
  closeToOthers(folder);
  for (const name of readdirSync(folder)) closeToOthers(join(folder, name));
}
