import { tmpdir } from 'node:os';
import { vi } from 'vitest';
import { runCli } from '../../src/cli/run-cli.js';

export interface Ran {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** Who hears of it when this process is asked to end: a command that has ended must not. */
const heeding = () =>
  (['SIGINT', 'SIGTERM'] as const).flatMap((signal) =>
    process.listeners(signal).map((heed) => [signal, heed] as const),
  );

/**
 * What somebody types, carried out inside this process: no second Node to start, which takes longer than most commands.
 * Where the built program itself is asked, with its signals, its input or its memory, there is `built`.
 */
export async function typed(
  words: readonly string[],
  folder: string = tmpdir(),
  env: Readonly<Record<string, string>> = {},
): Promise<Ran> {
  const stdout: string[] = [];
  const stderr: string[] = [];
  const from = process.cwd();
  const mask = process.umask();
  const heedingBefore = heeding();
  const spies = [
    vi.spyOn(console, 'log').mockImplementation((line = '') => void stdout.push(`${line}\n`)),
    vi.spyOn(console, 'error').mockImplementation((line = '') => void stderr.push(`${line}\n`)),
    vi.spyOn(process.stdout, 'write').mockImplementation((text) => stdout.push(String(text)) > 0),
    vi.spyOn(process.stderr, 'write').mockImplementation((text) => stderr.push(String(text)) > 0),
  ];
  for (const [name, value] of Object.entries({ DRYBELL_CONFIG: '', ...env })) vi.stubEnv(name, value);
  process.chdir(folder);
  try {
    const status = await runCli(words);
    return { status, stdout: stdout.join(''), stderr: stderr.join('') };
  } finally {
    process.chdir(from);
    process.umask(mask);
    for (const [signal, heed] of heeding())
      if (!heedingBefore.some(([, before]) => before === heed)) process.off(signal, heed);
    process.exitCode = 0;
    vi.unstubAllEnvs();
    for (const spy of spies) spy.mockRestore();
  }
}
