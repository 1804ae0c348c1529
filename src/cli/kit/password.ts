import type { Command } from 'commander';
import { isSealed } from '../../../shared/config/asked-word.js';
import { sealWord } from '../../host/doors/sealed-word.js';
import { EXIT } from '../program/exit-status.js';
import { askSecret } from '../terminal/dialogue/ask-secret.js';

const EXAMPLES = `
Examples:
  drybell password                    asks, and prints the line for messaging.password or page.accessWord
  pass show farm | drybell password   reads it from another program`;

/** A wet thumb and a guesser both get along with six (shared/config/page). */
const LEAST = 6;

async function password(): Promise<void> {
  const word = await askSecret('Password: ');
  const again = process.stdin.isTTY ? await askSecret('Once more: ') : word;
  const objection =
    word.length < LEAST
      ? `That has fewer than ${LEAST} characters; a short sentence is easier to remember and harder to guess.`
      : isSealed(word)
        ? 'That is sealed already; write it into the configuration as it is.'
        : word !== again
          ? 'The two were not the same; nothing was made.'
          : undefined;
  if (objection !== undefined) {
    console.error(objection);
    process.exitCode = EXIT.usedWrongly;
    return;
  }
  console.log(await sealWord(word));
}

/** `drybell password`: a password as it may stand in the configuration. */
export function register(program: Command): void {
  program
    .command('password')
    .description('Seal a password for the configuration: it can be checked there, and not read back.')
    .addHelpText('after', EXAMPLES)
    .action(password);
}
