import { accessSync, constants } from 'node:fs';

/** Whether the system lets this process write the file, so that a refusal to is the file's own. */
export function isWritable(path: string): boolean {
  try {
    accessSync(path, constants.W_OK);
    return true;
  } catch {
    return false;
  }
}
