import { createInterface } from 'node:readline';
import { Writable } from 'node:stream';
import { shownOn } from '../fitted.js';

/** Asks for one line that does not show on the screen; from a pipe, its first line. The empty text when there is none. */
export function askSecret(question: string): Promise<string> {
  const { stdin, stderr } = process;
  const nowhere = new Writable({ write: (_chunk, _encoding, done) => done() });
  const isTerminal = stdin.isTTY === true;
  if (isTerminal) stderr.write(shownOn(stderr, question));
  const lines = createInterface({ input: stdin, output: nowhere, terminal: isTerminal });
  return new Promise((resolve) => {
    let said = '';
    lines.once('line', (line) => {
      said = line;
      lines.close();
    });
    lines.once('SIGINT', () => lines.close());
    lines.once('close', () => {
      if (isTerminal) stderr.write('\n');
      resolve(said);
    });
  });
}
