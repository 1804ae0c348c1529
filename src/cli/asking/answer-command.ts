import pc from 'picocolors';
import type { Answer } from '../../../shared/wire/command.js';
import { EXIT } from '../program/exit-status.js';
import { type JsonFlag, printJson } from '../terminal/json-option.js';
import type { TellFlags } from './reach-monitor.js';
import { type Talk, type TypedCommand, talk } from './talk.js';

/** Prints what the monitor said; a refusal is the exit status too. */
function printAnswer({ ok, sentence, ref }: Answer): void {
  if (ok) console.log(`${sentence} ${pc.dim(`(ref ${ref})`)}`);
  else {
    console.error(sentence);
    process.exitCode = EXIT.couldNot;
  }
}

/** Prints answers one by one for people, or all of them as one document. */
export function printAnswers(answers: readonly Answer[], { json }: JsonFlag): void {
  if (json !== true) {
    for (const answer of answers) printAnswer(answer);
    return;
  }
  printJson({ answers });
  if (!answers.every(({ ok }) => ok)) process.exitCode = EXIT.couldNot;
}

/** Tells the monitor one thing and prints its sentence. */
export function answerCommand(
  flags: TellFlags,
  make: (farm: Talk) => TypedCommand | Promise<TypedCommand>,
): Promise<void> {
  return talk(flags, async (farm) => printAnswers([await farm.tell(await make(farm))], flags));
}
