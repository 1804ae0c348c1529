import { closeSync, fsyncSync, openSync, renameSync, rmSync, statSync, writeSync } from 'node:fs';

const freshFileMode = 0o644;

/**
 * Writes a file whole or not at all: a new one beside it, to the disk, then renamed over it. Keeps its permissions.
 * @param freshMode those of a file that was not there
 */
export function writeWhole(file: string, text: string, freshMode = freshFileMode): void {
  const fresh = unfinishedName(file);
  const mode = modeOf(file, freshMode);
  try {
    const handle = openSync(fresh, 'w', mode);
    try {
      writeSync(handle, text);
      fsyncSync(handle);
    } finally {
      closeSync(handle);
    }
    renameSync(fresh, file);
  } catch (cause) {
    rmSync(fresh, { force: true });
    throw cause;
  }
}

function modeOf(file: string, freshMode: number): number {
  return (statSync(file, { throwIfNoEntry: false })?.mode ?? freshMode) & 0o777;
}

/** Name under which a file is written until it is whole. */
export function unfinishedName(file: string): string {
  return `${file}.part`;
}
