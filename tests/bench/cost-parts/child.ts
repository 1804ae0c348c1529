import { type ChildProcess, spawn } from 'node:child_process';
import { costOfProcess } from './process-cost.js';

/** A process that was started and said that it is ready. */
export interface ReadyChild {
  readonly pid: number;
  readonly readyMs: number;
  /** Its own time at the processor until then: what remains when others share the machine. */
  readonly readyProcessorMs: number;
  stop(): Promise<void>;
}

const S_TO_MS = 1000;

function ended(child: ChildProcess): Promise<unknown> {
  return child.exitCode === null ? new Promise((resolve) => child.once('exit', resolve)) : Promise.resolve();
}

/** Starts a script of Node and waits for a word in what it prints. Rejects with all it printed when it ends before. */
export async function startUntil(word: string, args: readonly string[], cwd: string): Promise<ReadyChild> {
  const startedMs = performance.now();
  const child = spawn(process.execPath, args, { cwd, stdio: ['ignore', 'pipe', 'pipe'] });
  let said = '';
  await new Promise<void>((ready, fail) => {
    const hear = (text: Buffer) => {
      said += text.toString();
      if (said.includes(word)) ready();
    };
    child.stdout.on('data', hear);
    child.stderr.on('data', hear);
    child.once('exit', () => fail(new Error(`${args[0]} ended before it was ready: ${said}`)));
  });
  const readyMs = performance.now() - startedMs;
  const pid = child.pid ?? 0;
  const readyProcessorMs = costOfProcess(pid).processorS * S_TO_MS;
  return {
    pid,
    readyMs,
    readyProcessorMs,
    stop: async () => {
      child.kill('SIGTERM');
      await ended(child);
    },
  };
}
