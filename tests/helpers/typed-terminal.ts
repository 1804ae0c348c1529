import { type ChildProcess, spawn } from 'node:child_process';
import { resolve } from 'node:path';

const main = resolve('dist/src/cli/main.js');
const CTRL_C = '\u0003';

/** The built program on a pseudo-terminal, typed at like a person does. */
export class TypedTerminal {
  #shown = '';
  readonly #child: ChildProcess;
  readonly #ended: Promise<number | null>;
  #told: (() => void) | undefined;

  constructor(args: readonly string[], folder: string) {
    // exec: a shell between would report the Ctrl-C instead of the program's own status
    const command = ['exec', process.execPath, main, ...args]
      .map((word) => (word === 'exec' ? word : `'${word}'`))
      .join(' ');
    // wide enough that no question is broken; how narrow ones look is tests/cli/widths.test.ts
    this.#child = spawn('script', ['-qfec', `stty cols 200; ${command}`, '/dev/null'], {
      cwd: folder,
      stdio: ['pipe', 'pipe', 'inherit'],
      env: { ...process.env, DRYBELL_CONFIG: '', TZ: 'UTC', SHELL: '/bin/sh' },
    });
    this.#child.stdout?.on('data', (piece) => {
      this.#shown += String(piece);
      this.#told?.();
    });
    this.#ended = new Promise((done) => this.#child.once('exit', (status) => done(status)));
    void this.#ended.then(() => this.#told?.());
  }

  /** Everything shown so far. */
  get shown(): string {
    return this.#shown.replaceAll('\r', '');
  }

  /** Waits until this is shown, and forgets what was shown before it. Rejects when the program ends first. */
  async until(pattern: RegExp): Promise<void> {
    for (;;) {
      const match = pattern.exec(this.#shown);
      if (match !== null) {
        this.#shown = this.#shown.slice(match.index + match[0].length);
        return;
      }
      const isOver = await Promise.race([
        new Promise<false>((told) => {
          this.#told = () => told(false);
        }),
        this.#ended.then(() => true),
      ]);
      if (isOver && !pattern.test(this.#shown)) throw new Error(`not shown: ${pattern} in ${this.#shown}`);
    }
  }

  type(line: string): void {
    this.#child.stdin?.write(`${line}\n`);
  }

  pressCtrlC(): void {
    this.#child.stdin?.write(CTRL_C);
  }

  /** Exit status of the program. */
  ended(): Promise<number | null> {
    return this.#ended;
  }
}
