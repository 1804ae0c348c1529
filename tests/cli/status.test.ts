import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { type AddressInfo, createServer, type Server } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Aedes } from 'aedes';
import { connectAsync } from 'mqtt';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import { checkReportSchema, type StatusReport, statusReportSchema } from '../../shared/cli-reports.js';
import { realClock } from '../../src/cli/program/real-clock.js';
import type { Fact, JudgedReading } from '../../src/monitor/ports/facts.js';
import { openSqliteStore } from '../../src/store/sqlite/open-sqlite-store.js';
import { drybellAside } from '../helpers/drybell-aside.js';
import { freePort, RunningMonitor } from '../helpers/running-monitor.js';
import { type Ran, typed } from '../helpers/typed.js';

const NEWEST_MS = Date.parse('2026-04-18T05:00:00Z');

/** A reading of the air, or of none. */
function judged(reading: Partial<JudgedReading>): Fact {
  return {
    kind: 'reading',
    reading: {
      probeId: 'temp-south',
      observedAtMs: NEWEST_MS,
      rawValue: 21.5,
      rawUnit: 'Cel',
      waterContentM3PerM3: undefined,
      flag: 1,
      flagReasons: [],
      calibrationId: undefined,
      ...reading,
    },
  };
}

const told = (ran: Ran): StatusReport => statusReportSchema.parse(JSON.parse(ran.stdout));

describe('status of a configured farm', () => {
  let monitor: RunningMonitor;
  beforeAll(async () => {
    monitor = await RunningMonitor.start({
      trays: [{ id: 'celery-1', bench: 'south', blockSideMm: 19, blockCount: 280 }],
      probes: [{ id: 'temp-south', kind: 'air-temperature', bench: 'south' }],
    });
  });
  afterAll(() => monitor.stop());

  it('says what runs and where all is kept, and ends with 0 while all is well', async () => {
    const ran = await typed(['status', '--config', monitor.config, '--json']);
    expect(ran.status, ran.stdout + ran.stderr).toBe(0);
    expect(told(ran)).toMatchObject({
      farm: 'alder-row',
      well: true,
      monitor: { state: 'runs', broker: monitor.broker, drive: 'live', troubles: [] },
      configuration: monitor.config,
      store: { folder: join(monitor.folder, 'data'), aside: [] },
      probes: [{ id: 'temp-south' }],
      outgoing: [{ to: 'broker', waiting: 0 }],
      alarms: [],
    });
    const words = (await typed(['status', '--config', monitor.config])).stdout;
    expect(words).toContain('alder-row: the monitor runs since');
    expect(words).toContain(join(monitor.folder, 'data'));
    expect(words).toContain('never read: temp-south');
  });

  it('answers from another folder by the broker alone', async () => {
    const ran = await typed(['status', '--broker', monitor.broker, '--json']);
    expect(ran.status).toBe(0);
    expect(told(ran)).toMatchObject({ farm: 'alder-row', monitor: { state: 'runs' }, outgoing: [] });
    expect(told(ran).store).toBeUndefined();
  });

  it.each(['SIGTERM', 'SIGKILL'] as const)('says that no monitor runs after %s', async (signal) => {
    await monitor.end(signal);
    const ran = await typed(['status', '--config', monitor.config, '--json']);
    expect(ran.status).toBe(1);
    expect(told(ran)).toMatchObject({ well: false, monitor: { state: 'ended' } });
    expect(told(ran).store?.bytes).toBeGreaterThan(0);
    await monitor.startAgain();
  });
});

describe('status where something is wrong', () => {
  const folder = mkdtempSync(join(tmpdir(), 'drybell-status-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const configured = (messaging: object): string => {
    const file = join(folder, 'drybell.json');
    writeFileSync(file, JSON.stringify({ farm: 'alder-row', benches: [{ id: 'south' }], messaging }));
    return file;
  };

  it('looks before the first start as well: nothing kept, nothing runs', async () => {
    const ran = await typed(['status', '--config', configured({ listenPort: await freePort() }), '--json']);
    expect(ran.status).toBe(1);
    expect(told(ran)).toMatchObject({
      monitor: { state: 'ended' },
      store: { folder: join(folder, 'data'), aside: [] },
    });
    expect(told(ran).store?.bytes).toBeUndefined();
  });

  it('gives no age to a probe that was asked and never answered', async () => {
    const config = join(folder, 'mute.json');
    const probe = (id: string) => ({ id, kind: 'air-temperature', bench: 'south' });
    writeFileSync(
      config,
      JSON.stringify({
        farm: 'alder-row',
        benches: [{ id: 'south' }],
        probes: [probe('temp-mute'), probe('temp-once')],
        messaging: { listenPort: await freePort() },
        store: { folder: join(folder, 'mute-data') },
      }),
    );
    mkdirSync(join(folder, 'mute-data'));
    const store = openSqliteStore({ folder: join(folder, 'mute-data'), clock: realClock });
    const mute = { rawValue: undefined, flag: 9 as const, flagReasons: ['no-answer'] };
    await store.keep(
      [0, 1, 2].flatMap((i) => [
        judged({ probeId: 'temp-mute', ...mute, observedAtMs: NEWEST_MS - i * 60_000 }),
        judged({
          probeId: 'temp-once',
          ...(i === 2 ? {} : mute),
          observedAtMs: NEWEST_MS - i * 60_000,
        }),
      ]),
    );
    await store.close();
    const { probes } = told(await typed(['status', '--config', config, '--json']));
    expect(probes).toEqual([
      { id: 'temp-mute' },
      { id: 'temp-once', newestAt: toInstant(NEWEST_MS - 2 * 60_000) },
    ]);
    expect((await typed(['status', '--config', config])).stdout).toContain('never read: temp-mute');
  });

  it('names what was set aside', async () => {
    mkdirSync(join(folder, 'data'), { recursive: true });
    const aside = join(folder, 'data', 'outbox.db.damaged-2026-04-18T05-00-00-000Z');
    writeFileSync(aside, 'x');
    const ran = await typed(['status', '--config', configured({ listenPort: await freePort() })]);
    expect(ran.status).toBe(1);
    expect(ran.stdout).toContain(aside);
    rmSync(aside);
  });

  it('ends with 2 for a configuration that cannot be used and with 3 where nobody answers', async () => {
    writeFileSync(join(folder, 'broken.json'), '{');
    expect((await typed(['status', '--config', join(folder, 'broken.json')])).status).toBe(2);
    const nobody = await typed(['status', '--broker', `mqtt://127.0.0.1:${await freePort()}`]);
    expect(nobody.status).toBe(3);
    expect(nobody.stderr.trim().split('\n')).toHaveLength(1);
  });
});

describe('status with a broker elsewhere', () => {
  let broker: Aedes;
  let server: Server;
  let url: string;
  let monitor: RunningMonitor | undefined;
  beforeAll(async () => {
    broker = await Aedes.createBroker();
    server = createServer(broker.handle);
    await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
    url = `mqtt://127.0.0.1:${(server.address() as AddressInfo).port}`;
  });
  afterEach(() => monitor?.stop());
  afterAll(async () => {
    await new Promise<void>((closed) => broker.close(() => closed()));
    await new Promise((closed) => server.close(closed));
  });

  it('tells the alarms that stand, and check reads them as well', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'drybell-status-'));
    const config = join(folder, 'drybell.json');
    writeFileSync(
      config,
      JSON.stringify({ farm: 'alder-row', benches: [{ id: 'south' }], messaging: { url } }),
    );
    const client = await connectAsync(url);
    const say = (topic: string, body: object) =>
      client.publishAsync(`drybell/alder-row/${topic}`, JSON.stringify(body), { qos: 1, retain: true });
    await say('status', { online: true, at: '2026-04-18T04:00:00Z', drive: 'live' });
    const alarm = {
      at: '2026-04-18T05:00:00Z',
      kind: 'probe',
      state: 'unacknowledged',
      source: 'moist-1',
      id: 'a1',
    };
    await say('alarm/moist-1/probe', alarm);
    const ran = await drybellAside(['status', '--config', config, '--json']);
    expect(ran.status, ran.stderr).toBe(1);
    const { id: _, ...standing } = alarm;
    expect(told(ran).alarms).toEqual([standing]);
    const checked = await drybellAside(['check', '--config', config, '--json']);
    expect(checked.stderr).toBe('');
    expect(checkReportSchema.parse(JSON.parse(checked.stdout)).farm).toBe('alder-row');
    await client.endAsync();
    rmSync(folder, { recursive: true });
  });

  it('knows a monitor that runs without being heard, and what waits meanwhile', async () => {
    monitor = await RunningMonitor.start({
      messaging: { url: `mqtt://127.0.0.1:${await freePort()}` },
      trays: [{ id: 'celery-1', bench: 'south', blockSideMm: 19, blockCount: 280 }],
    });
    await expect
      .poll(async () => told(await typed(['status', '--config', String(monitor?.config), '--json'])), {
        timeout: 60_000,
      })
      .toMatchObject({ well: false, monitor: { state: 'unheard' }, store: { aside: [] } });
    const { outgoing } = told(await typed(['status', '--config', monitor.config, '--json']));
    expect(outgoing[0]).toMatchObject({ to: 'broker' });
    if ((outgoing[0]?.waiting ?? 0) > 0) expect(outgoing[0]?.oldestAt).toBeDefined();
  });
});
