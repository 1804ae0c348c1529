import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { type AddressInfo, createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const main = resolve('dist/src/cli/main.js');

/** A port of this machine that nobody has now. */
export async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
  const { port } = server.address() as AddressInfo;
  await new Promise((closed) => server.close(closed));
  return port;
}

export interface Ran {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs the built program to its end. */
export function drybell(args: readonly string[], folder: string = tmpdir()): Ran {
  const { status, stdout, stderr } = spawnSync(process.execPath, [main, ...args], {
    cwd: folder,
    encoding: 'utf8',
    input: '',
    env: { ...process.env, NO_COLOR: '1', DRYBELL_CONFIG: '' },
  });
  return { status, stdout, stderr };
}

/** The built program running a farm in a folder of its own. */
export class RunningMonitor {
  private constructor(
    readonly folder: string,
    readonly config: string,
    private readonly child: ChildProcess,
  ) {}

  /** @param farm its configuration but for name, ports and store */
  static async start(farm: object): Promise<RunningMonitor> {
    const folder = mkdtempSync(join(tmpdir(), 'drybell-running-'));
    const config = join(folder, 'drybell.json');
    writeFileSync(
      config,
      JSON.stringify({
        farm: 'alder-row',
        benches: [{ id: 'south' }],
        messaging: { listenPort: await freePort() },
        page: { listenPort: await freePort() },
        store: { folder: join(folder, 'data') },
        ...farm,
      }),
    );
    const child = spawn(process.execPath, [main, 'run', '--config', config], {
      stdio: ['ignore', 'ignore', 'pipe'],
    });
    await new Promise<void>((ready, fail) => {
      let log = '';
      child.stderr?.on('data', (text) => {
        log += String(text);
        if (log.includes('"ready"')) ready();
      });
      child.once('exit', () => fail(new Error(`the monitor ended: ${log}`)));
    });
    return new RunningMonitor(folder, config, child);
  }

  async stop(): Promise<void> {
    const ended = new Promise((resolveEnd) => this.child.once('exit', resolveEnd));
    this.child.kill();
    await ended;
    rmSync(this.folder, { recursive: true, force: true });
  }
}
