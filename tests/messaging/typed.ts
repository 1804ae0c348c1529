import { stripVTControlCharacters } from 'node:util';
import { Command as Commander } from 'commander';
import { vi } from 'vitest';
import { register as alarm } from '../../src/cli/commands/alarm.js';
import { register as away } from '../../src/cli/commands/away.js';
import { register as call } from '../../src/cli/commands/call.js';
import { register as note } from '../../src/cli/commands/note.js';
import { register as round } from '../../src/cli/commands/round.js';
import { register as tray } from '../../src/cli/commands/tray.js';
import { register as watered } from '../../src/cli/commands/watered.js';

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
  const error = vi.spyOn(console, 'error').mockImplementation((line: string) => void err.push(`${line}\n`));
  const program = new Commander('drybell').exitOverride();
  for (const register of [alarm, away, call, note, round, tray, watered]) register(program);
  try {
    await program.parseAsync(words, { from: 'user' });
    return {
      out: stripVTControlCharacters(out.join('')),
      err: err.join(''),
      status: Number(process.exitCode ?? 0),
    };
  } finally {
    process.exitCode = 0;
    log.mockRestore();
    error.mockRestore();
  }
}
