import { chmodSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { sealWord } from '../../src/host/doors/sealed-word.js';
import { drybell, freePort, RunningMonitor } from '../helpers/running-monitor.js';

describe('what is nobody else’s business', () => {
  let running: RunningMonitor | undefined;
  afterEach(async () => {
    await running?.stop();
    running = undefined;
  });

  it('started by hand, every file of the store is for its user alone, also those of an earlier start', async () => {
    running = await RunningMonitor.start({});
    const data = join(running.folder, 'data');
    const open = () =>
      ['.', ...readdirSync(data, { recursive: true })].filter(
        (name) => (statSync(join(data, String(name)), { throwIfNoEntry: false })?.mode ?? 0) & 0o077,
      );
    expect(open()).toEqual([]);
    await running.end('SIGTERM');
    for (const name of readdirSync(data)) chmodSync(join(data, name), 0o755);
    chmodSync(data, 0o755);
    await running.startAgain();
    expect(open()).toEqual([]);
  });

  it('with a sealed password commands of this machine still come in, and the log has neither password nor hash', async () => {
    const password = await sealWord('seven wet benches');
    const page = { listenHost: '127.0.0.1', listenPort: 0, accessWord: 'wet thumbs in clear' };
    running = await RunningMonitor.start({
      page,
      trays: [{ id: 't1', bench: 'south', blockSideMm: 38, blockCount: 72 }],
      messaging: { listenPort: await freePort(), user: 'anna', password },
    });
    const told = drybell(['watered', 't1', '--config', running.config], running.folder);
    expect(told.stderr).toBe('');
    expect(told.status).toBe(0);
    expect(running.log()).toContain('"ready"');
    expect(running.log()).not.toMatch(/scrypt|wet thumbs|seven wet/);
  });

  it('says loudly at the start what is open to everybody', async () => {
    running = await RunningMonitor.start({
      page: { listenHost: '0.0.0.0', listenPort: 0 },
      messaging: { listenPort: 0, user: 'anna', password: 'in clear text' },
    });
    expect(running.log()).toMatch(/not-well/);
    expect(running.log()).toContain('everybody on the network can look and give commands');
    expect(running.log()).toContain('every user of this machine can read messaging.password');
    expect(running.log()).not.toContain('in clear text');
  });

  it('"password" seals what a pipe brings, and refuses what is too short', () => {
    const sealed = drybell(['password'], undefined, 'seven wet benches\n');
    expect(sealed.stdout).toMatch(/^\$scrypt\$ln=14,r=8,p=5\$[A-Za-z0-9+/]{22}\$[A-Za-z0-9+/]{43}\n$/);
    const short = drybell(['password'], undefined, 'wet\n');
    expect([short.status, short.stdout]).toEqual([2, '']);
  });
});
