import { readFileSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { z } from 'zod';
import { writeWhole } from '../../host/disk/write-whole.js';

/** Where a calibration under way waits for its next weighing: beside the configuration, a day or two. */
export function sessionFile(configFile: string, probeId: string): string {
  return join(dirname(configFile), `calibration-${probeId}.json`);
}

/** @throws Error when the file is there but is not what this program wrote */
export function loadSession<T>(file: string, schema: z.ZodType<T>): T | undefined {
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch (cause) {
    if (cause instanceof Error && 'code' in cause && cause.code === 'ENOENT') return undefined;
    throw cause;
  }
  let raw: unknown;
  try {
    raw = JSON.parse(text);
  } catch (cause) {
    throw new SessionError(file, { cause });
  }
  const parsed = schema.safeParse(raw);
  if (!parsed.success) throw new SessionError(file, { cause: parsed.error });
  return parsed.data;
}

/** The file of a calibration under way can't be read. */
export class SessionError extends Error {
  readonly code = 'calibration-session-unusable';
  readonly retryable = false;
  constructor(file: string, options: ErrorOptions) {
    super(`${file} is not a calibration under way; start again with --restart`, options);
  }
}

export function saveSession(file: string, session: unknown): void {
  writeWhole(file, `${JSON.stringify(session, undefined, 2)}\n`);
}

export function dropSession(file: string): void {
  rmSync(file, { force: true });
}
