import { existsSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { writeWhole } from '../../../host/disk/write-whole.js';
import { STORE_FILE } from '../file/store-file.js';
import type { Marks } from '../tables/marks.js';

/** Beside the store: up to when it was kept, so that a store that is gone, emptied or older than that is noticed. */
const KEPT_UNTIL_FILE = 'kept-until.json';

const keptUntilSchema = z.strictObject({ version: z.literal(1), keptUntil: z.iso.datetime() });

function noted(folder: string): number | undefined {
  const path = join(folder, KEPT_UNTIL_FILE);
  if (!existsSync(path)) return undefined;
  try {
    return Date.parse(keptUntilSchema.parse(JSON.parse(readFileSync(path, 'utf8'))).keptUntil);
  } catch (cause) {
    // A note that can't be read notes nothing, and is written anew within the quarter of an hour.
    if (cause instanceof SyntaxError || cause instanceof z.ZodError) return undefined;
    throw cause;
  }
}

/** True when the store's file is there and holds not a byte, though one was kept here before. */
export function isEmptied(folder: string): boolean {
  const path = join(folder, STORE_FILE);
  return existsSync(path) && statSync(path).size === 0 && noted(folder) !== undefined;
}

/** What is missing of the store, as a sentence; undefined when it reaches as far as the note beside it says. */
export function missingSince(folder: string, marks: Marks): string | undefined {
  const keptUntilMs = noted(folder);
  const reachesMs = marks.get('kept-until-ms');
  if (keptUntilMs === undefined || (reachesMs !== undefined && reachesMs >= keptUntilMs)) return undefined;
  const until = new Date(keptUntilMs).toISOString();
  const path = join(folder, STORE_FILE);
  return reachesMs === undefined
    ? `The store "${path}" is empty, though it was kept until ${until}: what it held is gone. Stop Drybell and restore a backup if there is one.`
    : `The store "${path}" ends at ${new Date(reachesMs).toISOString()}, though it was kept until ${until}: what was written in between is gone.`;
}

/** Notes up to when the store was kept: in the store first, then beside it. */
export function noteKeptUntil(folder: string, marks: Marks, nowMs: number): void {
  marks.set('kept-until-ms', nowMs);
  const note = { version: 1, keptUntil: new Date(nowMs).toISOString() };
  writeWhole(join(folder, KEPT_UNTIL_FILE), `${JSON.stringify(note)}\n`);
}
