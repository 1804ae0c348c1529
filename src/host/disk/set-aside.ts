import { existsSync, readdirSync, renameSync } from 'node:fs';
import { join } from 'node:path';

/** Of what can't be read; of what was sound and made room for something else. */
const DAMAGED_MARK = '.damaged-';
const REPLACED_MARK = '.replaced-';

/** What SQLite keeps beside a database. */
const SQLITE_ENDS = ['', '-wal', '-shm'] as const;

/**
 * Gives a file or folder that can't be read, or that another replaces, a name with the date in it, so that a new one can take its place;
 * nothing in it is changed. What SQLite keeps beside it goes along. Returns the new path.
 */
export function setAside(path: string, nowMs: number, why: 'damaged' | 'replaced' = 'damaged'): string {
  const mark = why === 'damaged' ? DAMAGED_MARK : REPLACED_MARK;
  const aside = `${path}${mark}${new Date(nowMs).toISOString().replaceAll(/[:.]/g, '-')}`;
  for (const end of SQLITE_ENDS) if (existsSync(path + end)) renameSync(path + end, aside + end);
  return aside;
}

/** What was set aside as damaged in this folder and still lies there, oldest first. */
export function asideIn(folder: string): readonly string[] {
  return readdirSync(folder)
    .filter((name) => name.includes(DAMAGED_MARK) && !/-(wal|shm)$/.test(name))
    .sort()
    .map((name) => join(folder, name));
}
