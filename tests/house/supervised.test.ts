import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { SignOfLife } from '../../src/messaging/sign-of-life.js';
import { describeIf } from '../helpers/needs.js';
import { RunningMonitor } from '../helpers/running-monitor.js';
import { rememberingLog } from '../messaging/quiet-log.js';

/** Hears as systemd does: what comes with a message, the descriptor by which the sender waits, is let go at once. */
const EAR = `
import socket, sys
ear = socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM)
ear.bind(sys.argv[1])
print('listens', flush=True)
while True: print(ear.recv(4096).decode(), flush=True)`;

describeIf('python3', 'under systemd', () => {
  let running: RunningMonitor | undefined;
  let ear: ChildProcess | undefined;
  const folder = mkdtempSync(join(tmpdir(), 'drybell-notify-'));
  afterEach(async () => {
    await running?.stop();
    ear?.kill();
    rmSync(folder, { recursive: true });
  });

  it('says when it is ready, beats while its loop goes round and not while it stands still, and says that it stops', async () => {
    const socket = join(folder, 'notify');
    const heard: string[] = [];
    ear = spawn('python3', ['-c', EAR, socket], { stdio: ['ignore', 'pipe', 'inherit'] });
    ear.stdout?.on('data', (text) => heard.push(String(text)));
    await expect.poll(() => heard.join('')).toContain('listens');
    const beats = () => heard.join('').split('WATCHDOG=1').length - 1;
    // a beat at most each second
    running = await RunningMonitor.start(
      { cadenceS: 1 },
      { NOTIFY_SOCKET: socket, WATCHDOG_USEC: '4000000' },
    );
    await expect.poll(() => heard.join(''), { timeout: 10_000 }).toContain('READY=1');
    await expect.poll(beats, { timeout: 20_000 }).toBeGreaterThan(1);
    process.kill(running.pid, 'SIGSTOP');
    const before = beats();
    await new Promise((resolve) => setTimeout(resolve, 2_500));
    expect(beats()).toBeLessThanOrEqual(before + 1);
    process.kill(running.pid, 'SIGCONT');
    await expect.poll(beats, { timeout: 20_000 }).toBeGreaterThan(before + 1);
    await running.end('SIGTERM');
    expect(heard.join('')).toContain('STOPPING=1');
  });
});

describe('a sign of life', () => {
  let server: Server | undefined;
  afterEach(() => server?.close());

  it('goes out when the loop comes round and it is due, says what is wrong, and a farm that is not heard logs it once', async () => {
    const said: object[] = [];
    let status = 200;
    server = createServer((request, response) => {
      let text = '';
      request.on('data', (chunk) => {
        text += String(chunk);
      });
      request.on('end', () => {
        said.push(JSON.parse(text) as object);
        response.writeHead(status).end();
      });
    });
    await new Promise<void>((resolve) => server?.listen(0, '127.0.0.1', resolve));
    const { port } = server.address() as AddressInfo;
    let nowMs = 0;
    let wrong: string[] = [];
    const { log, events } = rememberingLog();
    const sign = new SignOfLife({
      farm: 'alder-row',
      config: { url: `http://127.0.0.1:${port}/secret-path`, everyMin: 5 },
      nowMs: () => nowMs,
      monotonicMs: () => nowMs,
      wrong: () => wrong,
      log,
    });
    const later = async (minutes: number, count: number) => {
      nowMs += minutes * 60_000;
      sign.beat();
      await expect.poll(() => said.length).toBe(count);
      await sign.idle();
    };
    await later(0, 1);
    sign.beat();
    await later(4, 1);
    wrong = ['board silent uno'];
    await later(1, 2);
    status = 500;
    await later(5, 3);
    await later(5, 4);
    status = 200;
    await later(5, 5);
    expect(said.slice(0, 2)).toEqual([
      { farm: 'alder-row', at: '1970-01-01T00:00:00Z', ok: true, wrong: [] },
      { farm: 'alder-row', at: '1970-01-01T00:05:00Z', ok: false, wrong: ['board silent uno'] },
    ]);
    expect(events).toEqual([
      { event: 'sign-of-life-not-taken', fields: { host: `127.0.0.1:${port}`, trouble: 'answered 500' } },
      { event: 'sign-of-life-taken-again', fields: { host: `127.0.0.1:${port}` } },
    ]);
    await sign.close();
  });
});
