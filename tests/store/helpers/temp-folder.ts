import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';

/** An empty folder that is removed when the test ends. */
export function tempFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'drybell-store-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}
