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
export function drybell(args: readonly string[], folder: string = tmpdir(), input = ''): Ran {
  const { status, stdout, stderr } = spawnSync(process.execPath, [main, ...args], {
    cwd: folder,
    encoding: 'utf8',
    input,
    env: { ...process.env, DRYBELL_CONFIG: '' },
  });
  return { status, stdout, stderr };
}

/** The built program running a farm in a folder of its own. */
export class RunningMonitor {
  private child: ChildProcess | undefined;
  private said = '';
  private isEnded = false;
  /** How often it ended by itself, though it had been ready. */
  crashes = 0;

  private constructor(
    readonly folder: string,
    readonly config: string,
    /** Address of its broker. */
    readonly broker: string,
    private readonly env: NodeJS.ProcessEnv,
  ) {}

  /** What it logged since it was started last. */
  log(): string {
    return this.said;
  }

  /** Its process, while it runs. */
  get pid(): number {
    return this.child?.pid ?? 0;
  }

  /**
   * @param farm its configuration but for name, ports and store
   * @param env of the process, beside that of the test
   */
  static async start(farm: object, env: NodeJS.ProcessEnv = {}): Promise<RunningMonitor> {
    const folder = mkdtempSync(join(tmpdir(), 'drybell-running-'));
    const config = join(folder, 'drybell.json');
    const listenPort = await freePort();
    writeFileSync(
      config,
      JSON.stringify({
        farm: 'alder-row',
        benches: [{ id: 'south' }],
        messaging: { listenPort },
        page: { listenPort: await freePort() },
        store: { folder: join(folder, 'data') },
        ...farm,
      }),
    );
    const monitor = new RunningMonitor(folder, config, `mqtt://127.0.0.1:${listenPort}`, env);
    await monitor.startAgain();
    return monitor;
  }

  /** Starts it on what it has kept; resolves when it is ready. */
  async startAgain(): Promise<void> {
    const child = spawn(process.execPath, [main, 'run', '--config', this.config], {
      stdio: ['ignore', 'ignore', 'pipe'],
      env: { ...process.env, ...this.env },
    });
    this.child = child;
    this.isEnded = false;
    this.said = '';
    await new Promise<void>((ready, fail) => {
      child.stderr?.on('data', (text) => {
        this.said += String(text);
        if (this.said.includes('"ready"')) ready();
      });
      child.once('exit', () => {
        if (!this.isEnded) this.crashes += 1;
        fail(new Error(`the monitor ended: ${this.said}`));
      });
    });
  }

  /** Starts it if it has ended by itself, as the service would. */
  async startIfEnded(): Promise<void> {
    const { child } = this;
    if (child === undefined || child.exitCode !== null || child.signalCode !== null) await this.startAgain();
  }

  /** Ends it in the middle of whatever it does, or asks it to end; what it has kept stays. */
  async end(signal: 'SIGKILL' | 'SIGTERM'): Promise<void> {
    const { child } = this;
    if (child === undefined || child.exitCode !== null || child.signalCode !== null) return;
    this.isEnded = true;
    const ended = new Promise((resolveEnd) => child.once('exit', resolveEnd));
    child.kill(signal);
    await ended;
  }

  async stop(): Promise<void> {
    await this.end('SIGTERM');
    rmSync(this.folder, { recursive: true, force: true });
  }
}
