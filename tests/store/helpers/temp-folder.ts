import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, onTestFinished } from 'vitest';

function make(): string {
  return mkdtempSync(join(tmpdir(), 'drybell-store-'));
}

/** An empty folder that is removed when the test ends. */
export function tempFolder(): string {
  const folder = make();
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

const shared: string[] = [];
afterAll(() => {
  for (const folder of shared.splice(0)) rmSync(folder, { recursive: true, force: true });
});

/** An empty folder for a whole file of tests. */
export function makeTempFolder(): string {
  const folder = make();
  shared.push(folder);
  return folder;
}
