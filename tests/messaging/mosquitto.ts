import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { toolPath } from '../helpers/needs.js';
import { freePort } from './free-port.js';

export const LOGIN = { user: 'alder-row', password: 'seven wet benches' };

export interface Mosquitto {
  readonly port: number;
  readonly tlsPort: number | undefined;
  start(): Promise<void>;
  stop(signal?: NodeJS.Signals): Promise<void>;
  /** Stops it and throws its memory away. */
  forget(): Promise<void>;
  close(): Promise<void>;
}

export interface MosquittoOptions {
  /** Lines of an ACL file; absent: everything is allowed to those who may log in. */
  readonly acl?: readonly string[];
  readonly tls?: { readonly ca: string; readonly cert: string; readonly key: string };
  /** Clients must show a certificate of the same authority. */
  readonly clientCertificates?: boolean;
}

async function answers(port: number): Promise<void> {
  for (;;) {
    const open = await new Promise<boolean>((resolve) => {
      const socket = connect({ port, host: '127.0.0.1' });
      socket.on('connect', () => {
        socket.destroy();
        resolve(true);
      });
      socket.on('error', () => resolve(false));
    });
    if (open) return;
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
}

function tlsLines(port: number, tls: NonNullable<MosquittoOptions['tls']>): string[] {
  return [`listener ${port} 127.0.0.1`, `cafile ${tls.ca}`, `certfile ${tls.cert}`, `keyfile ${tls.key}`];
}

/** Debian's mosquitto with a password file, persistence, and ACL and TLS when asked; in a folder of its own. */
export async function createMosquitto(options: MosquittoOptions = {}): Promise<Mosquitto> {
  const folder = mkdtempSync(join(tmpdir(), 'drybell-mosquitto-'));
  const state = join(folder, 'state');
  const passwords = join(folder, 'passwords');
  const acl = join(folder, 'acl');
  const port = await freePort();
  const tlsPort = options.tls === undefined ? undefined : await freePort();
  execFileSync(
    toolPath('mosquitto_passwd') ?? 'mosquitto_passwd',
    ['-b', '-c', passwords, LOGIN.user, LOGIN.password],
    {
      stdio: 'ignore',
    },
  );
  if (options.acl !== undefined) writeFileSync(acl, `${options.acl.join('\n')}\n`, { mode: 0o600 });
  const lines = [
    'allow_anonymous false',
    `password_file ${passwords}`,
    ...(options.acl === undefined ? [] : [`acl_file ${acl}`]),
    'persistence true',
    `persistence_location ${state}/`,
    'autosave_on_changes true',
    'autosave_interval 1',
    'set_tcp_nodelay true',
    ...(process.getuid?.() === 0 ? ['user root'] : []),
    `listener ${port} 127.0.0.1`,
    ...(options.tls === undefined || tlsPort === undefined ? [] : tlsLines(tlsPort, options.tls)),
    ...(options.clientCertificates === true ? ['require_certificate true'] : []),
  ];
  writeFileSync(join(folder, 'mosquitto.conf'), `${lines.join('\n')}\n`);
  mkdirSync(state);
  let child: ChildProcess | undefined;
  const stop = async (signal: NodeJS.Signals = 'SIGTERM') => {
    const running = child;
    child = undefined;
    if (running === undefined || running.exitCode !== null) return;
    const ended = once(running, 'exit');
    running.kill(signal);
    await ended;
  };
  const start = async () => {
    child = spawn(toolPath('mosquitto') ?? 'mosquitto', ['-c', join(folder, 'mosquitto.conf')], {
      stdio: 'ignore',
    });
    await answers(port);
  };
  await start();
  return {
    port,
    tlsPort,
    start,
    stop,
    forget: async () => {
      await stop('SIGKILL');
      rmSync(state, { recursive: true, force: true });
      mkdirSync(state);
    },
    close: async () => {
      await stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
