import { existsSync } from 'node:fs';
import type { Command } from 'commander';
import { CliError } from './cli-error.js';

/** Adds the option without which no command writes over a file that is there. */
export function withForce(command: Command): Command {
  return command.option('--force', 'write over files that are there');
}

/** Throws a CliError `file-exists` when one of the files is there and nobody said that it may be replaced. */
export function refuseReplacing(files: readonly string[], force: true | undefined): void {
  const there = force === true ? [] : files.filter((file) => existsSync(file));
  if (there.length === 0) return;
  const names = there.length === 1 ? `${there[0]} is` : `${there.join(', ')} are`;
  throw new CliError(
    'file-exists',
    `${names} there already, and nothing was written: give another name with --out, or --force to write over ${there.length === 1 ? 'it' : 'them'}.`,
  );
}
