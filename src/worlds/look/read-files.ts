import { readFileSync } from 'node:fs';
import { LookError } from './cells/look-error.js';
import { type FoundSeries, type Recognised, type RecogniseOptions, recognise } from './recognise.js';

/** A file and what it holds. */
export interface LookedFile {
  readonly file: string;
  readonly found: Recognised;
}

function bytesOf(file: string): Uint8Array {
  try {
    return readFileSync(file);
  } catch (cause) {
    const code = cause instanceof Error && 'code' in cause ? String(cause.code) : 'unknown';
    const why =
      code === 'ENOENT'
        ? 'there is no such file'
        : code === 'EISDIR'
          ? 'is a folder; name the files in it'
          : code === 'ERR_FS_FILE_TOO_LARGE'
            ? 'is larger than 2 GiB; cut it into pieces and name them all'
            : `can't be read (${code})`;
    throw new LookError('logger-file-unusable', `${file}: ${why}`, { cause });
  }
}

/** Recognises each file by itself. Throws LookError, the file's name before its message. */
export function readFiles(files: readonly string[], options: RecogniseOptions): readonly LookedFile[] {
  return files.map((file) => {
    const bytes = bytesOf(file);
    try {
      return { file, found: recognise(bytes, options) };
    } catch (error) {
      if (!(error instanceof LookError)) throw error;
      throw new LookError(error.code, `${file}: ${error.message}`, { cause: error });
    }
  });
}

/** Series of several files: those of one name, kind and unit go on from file to file, a reading that stands in two counts once. */
export function joinFiles(files: readonly LookedFile[]): readonly FoundSeries[] {
  const joined = new Map<string, FoundSeries[]>();
  for (const { found } of files)
    for (const series of found.series) {
      const key = `${series.column}\n${series.kind}\n${series.unit}`;
      joined.set(key, [...(joined.get(key) ?? []), series]);
    }
  return [...joined.values()].flatMap((parts) => {
    const [first] = parts;
    if (first === undefined || parts.length === 1) return parts;
    const values = new Map<number, number>();
    for (const part of parts)
      part.atMs.forEach((at, index) => {
        values.set(at, part.values[index] ?? 0);
      });
    const ordered = [...values].sort(([a], [b]) => a - b);
    return [{ ...first, atMs: ordered.map(([at]) => at), values: ordered.map(([, value]) => value) }];
  });
}
