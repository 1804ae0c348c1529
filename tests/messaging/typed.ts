import { vi } from 'vitest';
import { runCli } from '../../src/cli/run-cli.js';

export interface Said {
  readonly out: string;
  readonly err: string;
  readonly status: number;
}

/** What people type, inside this process: faster than the built program. */
export async function drybell(...words: string[]): Promise<Said> {
  const out: string[] = [];
  const err: string[] = [];
  const log = vi.spyOn(console, 'log').mockImplementation((line: string) => void out.push(`${line}\n`));
  const written = vi.spyOn(process.stdout, 'write').mockImplementation((text) => out.push(String(text)) > 0);
  const error = vi.spyOn(console, 'error').mockImplementation((line: string) => void err.push(`${line}\n`));
  try {
    const status = await runCli(words);
    return {
      out: out.join(''),
      err: err.join(''),
      status,
    };
  } finally {
    process.exitCode = 0;
    log.mockRestore();
    written.mockRestore();
    error.mockRestore();
  }
}
