import type { Command } from 'commander';

/** Options of a command that tells something. */
export interface JsonFlag {
  readonly json?: true;
}

/** Adds `--json`, and says where the shape of what it prints is written. @param schema its name in shared/schemas */
export function withJson(command: Command, schema: string): Command {
  return command.option('--json', `as data, one JSON document (shared/schemas/${schema}.schema.json)`);
}

/** Prints one JSON document as it is, however wide the terminal. What is absent is left out. */
export function printJson<T>(document: T): void {
  process.stdout.write(`${JSON.stringify(document, null, 2)}\n`);
}
