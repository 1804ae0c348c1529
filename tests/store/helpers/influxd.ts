import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { InfluxDB } from 'influx';
import { toolPath } from '../../helpers/needs.js';

/** A real InfluxDB 1.x on free ports of this machine, with its data in a temporary folder. */
export class Influxd {
  readonly url: string;
  readonly port: number;
  readonly #folder: string;
  #process: ChildProcess | undefined;

  private constructor(folder: string, port: number) {
    this.#folder = folder;
    this.port = port;
    this.url = `http://127.0.0.1:${port}`;
  }

  /**
   * `compactsSoon`: data go to their final files within seconds, for measuring how large those are.
   * `under`: the folder in which its own is made.
   */
  static async start({ compactsSoon = false, under = tmpdir() } = {}): Promise<Influxd> {
    const folder = mkdtempSync(join(under, 'drybell-influxd-'));
    const [port, rpcPort] = [await freePort(), await freePort()];
    mkdirSync(join(folder, 'data'));
    writeFileSync(
      join(folder, 'influxd.conf'),
      `reporting-disabled = true
bind-address = "127.0.0.1:${rpcPort}"
[meta]
  dir = "${folder}/meta"
[data]
  dir = "${folder}/data"
  wal-dir = "${folder}/wal"
  cache-max-memory-size = "64m"
  query-log-enabled = false
${compactsSoon ? '  cache-snapshot-write-cold-duration = "1s"\n  compact-full-write-cold-duration = "1s"' : ''}
[monitor]
  store-enabled = false
[http]
  bind-address = "127.0.0.1:${port}"
  log-enabled = false
`,
    );
    const influxd = new Influxd(folder, port);
    await influxd.resume();
    return influxd;
  }

  get dataFolder(): string {
    return join(this.#folder, 'data');
  }

  client(database?: string): InfluxDB {
    return new InfluxDB({
      host: '127.0.0.1',
      port: this.port,
      ...(database === undefined ? {} : { database }),
    });
  }

  /** Starts the server again on the same ports and data. */
  async resume(): Promise<void> {
    const path = toolPath('influxd');
    if (path === undefined) throw new Error('influxd is not installed');
    this.#process = spawn(path, ['-config', join(this.#folder, 'influxd.conf')], { stdio: 'ignore' });
    await this.#answers();
  }

  async #answers(): Promise<void> {
    const deadlineMs = performance.now() + 20_000;
    while (performance.now() < deadlineMs) {
      const answer = await fetch(`${this.url}/ping`).catch(() => undefined);
      if (answer?.ok) return;
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
    throw new Error('influxd did not answer within 20 s');
  }

  /** Ends the server; its data stay. SIGKILL is what a power cut looks like. */
  async halt(signal: 'SIGTERM' | 'SIGKILL' = 'SIGTERM'): Promise<void> {
    const running = this.#process;
    if (running === undefined || running.exitCode !== null) return;
    const ended = new Promise((resolve) => running.once('exit', resolve));
    running.kill(signal);
    await ended;
    this.#process = undefined;
  }

  async stop(): Promise<void> {
    await this.halt('SIGKILL');
    rmSync(this.#folder, { recursive: true, force: true });
  }
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.once('error', reject);
    server.listen(0, '127.0.0.1', () => {
      const address = server.address();
      server.close(() => {
        if (address === null || typeof address === 'string') reject(new Error('no port'));
        else resolve(address.port);
      });
    });
  });
}
