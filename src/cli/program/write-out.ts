import { createWriteStream, renameSync, rmSync } from 'node:fs';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { fileTrouble, isFileTrouble } from '../../host/disk/file-trouble.js';
import { StoreError } from '../../store/both/store-error.js';

/** Writes a text to a file, which gets its name when it is whole, or to the terminal when no file is named. */
export async function writeOut(
  file: string | undefined,
  text: AsyncIterable<string> | Iterable<string>,
): Promise<void> {
  if (file === undefined) {
    for await (const piece of text) process.stdout.write(piece);
    return;
  }
  const unfinished = `${file}.part`;
  try {
    await pipeline(Readable.from(text), createWriteStream(unfinished));
    renameSync(unfinished, file);
  } catch (cause) {
    rmSync(unfinished, { force: true });
    if (isFileTrouble(cause))
      throw new StoreError('read-only', `Cannot write "${file}": ${fileTrouble(cause)}.`, { cause });
    throw cause;
  }
}
