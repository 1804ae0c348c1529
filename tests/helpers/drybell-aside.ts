import { spawn } from 'node:child_process';
import { tmpdir } from 'node:os';
import { resolve } from 'node:path';
import type { Ran } from './running-monitor.js';

/** Runs the built program to its end while this process goes on: for a broker that the test itself serves. */
export function drybellAside(args: readonly string[], folder: string = tmpdir()): Promise<Ran> {
  return new Promise((ended) => {
    const child = spawn(process.execPath, [resolve('dist/src/cli/main.js'), ...args], {
      cwd: folder,
      stdio: ['ignore', 'pipe', 'pipe'],
      env: { ...process.env, DRYBELL_CONFIG: '' },
    });
    let stdout = '';
    let stderr = '';
    child.stdout.on('data', (text) => {
      stdout += String(text);
    });
    child.stderr.on('data', (text) => {
      stderr += String(text);
    });
    child.once('close', (status) => ended({ status, stdout, stderr }));
  });
}
