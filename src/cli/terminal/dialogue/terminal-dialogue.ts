import { createInterface } from 'node:readline';
import { shownOn, type Terminal } from '../fitted.js';
import type { Dialogue } from './dialogue.js';

/**
 * A dialogue over a terminal or a pipe. Lines that come before they are asked for wait their turn; after the end of the
 * input every question is unanswered.
 */
export function terminalDialogue(
  input: NodeJS.ReadableStream,
  output: NodeJS.WritableStream & Terminal,
): Dialogue & { close(): void } {
  const lines = createInterface({ input, terminal: false });
  const waiting: string[] = [];
  let ended = false;
  let answer: ((line: string | undefined) => void) | undefined;
  lines.on('line', (line) => {
    if (answer === undefined) waiting.push(line.trim());
    else answer(line.trim());
    answer = undefined;
  });
  lines.on('close', () => {
    ended = true;
    answer?.(undefined);
    answer = undefined;
  });
  return {
    say: (text) => void output.write(`${shownOn(output, text)}\n`),
    async ask(question) {
      output.write(shownOn(output, question));
      const early = waiting.shift();
      if (early !== undefined || ended) {
        output.write('\n');
        return early;
      }
      return await new Promise((resolve) => {
        answer = resolve;
      });
    },
    close: () => lines.close(),
  };
}
