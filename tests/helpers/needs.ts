import { existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { describe } from 'vitest';

const folders = [...(process.env['PATH'] ?? '').split(delimiter), '/usr/sbin', '/usr/bin', '/usr/local/bin'];

/** Path of an installed tool, or undefined. */
export function toolPath(tool: string): string | undefined {
  return folders.map((folder) => join(folder, tool)).find((path) => existsSync(path));
}

/**
 * A suite that needs a tool from a Debian package. It runs when the tool is there; otherwise it is reported as
 * skipped under a name that says what to install. With DRYBELL_NO_SKIPS=1 a missing tool is a failure.
 */
export function describeIf(tool: string, name: string, suite: () => void): void {
  const present = toolPath(tool) !== undefined;
  if (!present && process.env['DRYBELL_NO_SKIPS'] === '1') {
    throw new Error(`suite "${name}" needs ${tool}, which is not installed, and skips are failures here`);
  }
  describe.skipIf(!present)(present ? name : `${name} (skipped: apt-get install ${tool})`, suite);
}
