import pc from 'picocolors';
import type { Answer } from '../../../shared/command.js';
import { ConfigError } from '../../config/load-config.js';
import { MessagingError } from '../../messaging/messaging-error.js';
import { BadWord } from './bad-word.js';
import { type MakeCommand, type TellFlags, tellMonitor } from './reach-monitor.js';

const FAILED = 1;
const UNUSABLE = 2;

/** Runs what a people's command does; expected failures become one message and an exit status. */
export async function withPlainErrors(run: () => Promise<void>): Promise<void> {
  try {
    await run();
  } catch (error) {
    if (error instanceof MessagingError) process.exitCode = FAILED;
    else if (error instanceof ConfigError || error instanceof BadWord) process.exitCode = UNUSABLE;
    else throw error;
    console.error(error.message);
  }
}

function print({ ok, sentence, ref }: Answer): void {
  if (ok) console.log(`${sentence} ${pc.dim(`(ref ${ref})`)}`);
  else {
    console.error(sentence);
    process.exitCode = FAILED;
  }
}

/** Tells the monitor, prints its sentence; exit status 0 done, 1 refused or nobody there, 2 mistyped. */
export function answerCommand(flags: TellFlags, make: MakeCommand): Promise<void> {
  return withPlainErrors(async () => print(await tellMonitor(flags, make)));
}
