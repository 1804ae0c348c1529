import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { type AddressInfo, createServer, type Server } from 'node:net';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { realClock } from '../../src/cli/program/real-clock.js';
import { openSqliteStore } from '../../src/store/sqlite/open-sqlite-store.js';

const PATIENCE_MS = 20_000;

describe('a house or a page that cannot start', () => {
  let folder: string;
  let other: Server;

  const startWith = (word: 'run' | 'review', messaging: object, page: object = { listenPort: 0 }) => {
    const file = join(folder, 'drybell.json');
    const farm = {
      farm: 'alder-row',
      benches: [{ id: 'south' }],
      store: { folder: join(folder, 'data') },
      page,
      messaging,
    };
    writeFileSync(file, JSON.stringify(farm));
    return spawnSync(process.execPath, [resolve('dist/src/cli/main.js'), word, '--config', file], {
      encoding: 'utf8',
      timeout: PATIENCE_MS,
    });
  };

  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), 'drybell-start-'));
    other = createServer();
    await new Promise<void>((listening) => other.listen(0, '127.0.0.1', listening));
  });

  afterEach(async () => {
    await new Promise((closed) => other.close(closed));
    rmSync(folder, { recursive: true, force: true });
  });

  it('because the port of its broker is taken says so and ends, so that whoever supervises it can start it again', () => {
    const { status, stderr } = startWith('run', { listenPort: (other.address() as AddressInfo).port });
    expect(stderr).toMatch(/another program listens there; stop it, or choose another messaging.listenPort/);
    expect(status).toBe(3);
  });

  it('because the port of its page is taken says so and ends, also a review beside a running house', async () => {
    const store = openSqliteStore({ folder: join(folder, 'data'), clock: realClock });
    await store.close();
    const page = { listenPort: (other.address() as AddressInfo).port };
    const { status, stderr } = startWith('review', {}, page);
    expect(stderr).toMatch(/Cannot serve the page .* give another page.listenPort/);
    expect(status).toBe(3);
  });

  it('because a certificate is missing says so and ends', () => {
    const { status, stderr } = startWith('run', {
      url: 'mqtts://127.0.0.1:8883',
      caFile: join(folder, 'none.pem'),
    });
    expect(stderr).toMatch(/Cannot read messaging.caFile/);
    expect(status).toBe(3);
  });
});
