import { createServer } from 'node:http';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { influxSchema } from '../../shared/config/store.js';
import { Database } from '../../src/host/disk/sqlite.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import { retryDelaysMs } from '../../src/store/influx/drain.js';
import { openInfluxReview } from '../../src/store/influx/influx-review.js';
import { type InfluxStore, openInfluxStore } from '../../src/store/influx/open-influx-store.js';
import { SPOOL_FILE } from '../../src/store/influx/spool.js';
import { describeIf } from '../helpers/needs.js';
import { FakeClock } from './helpers/fake-clock.js';
import { Influxd } from './helpers/influxd.js';
import {
  alarm,
  forecast,
  HOUR_MS,
  MINUTE_MS,
  moisture,
  NOON_MS,
  newTray,
  note,
  reading,
} from './helpers/sample-facts.js';
import { storeContract } from './helpers/store-contract.js';
import { tempFolder } from './helpers/temp-folder.js';

const everything = { fromMs: NOON_MS - 30 * 24 * HOUR_MS, toMs: NOON_MS + 30 * 24 * HOUR_MS };

describeIf('influxd', 'the store in InfluxDB', () => {
  let influxd: Influxd;
  let databaseCount = 0;
  beforeAll(async () => {
    influxd = await Influxd.start();
  });
  afterAll(() => influxd.stop());

  function open(
    options: { folder?: string; database?: string; monitor?: string; clock?: FakeClock; url?: string } = {},
  ): InfluxStore {
    databaseCount += 1;
    const {
      folder = tempFolder(),
      database = `farm${databaseCount}`,
      monitor = 'south',
      url = influxd.url,
    } = options;
    return openInfluxStore({
      folder,
      farm: 'alder-row',
      influx: influxSchema.parse({ url, database, monitor, requestTimeoutS: 5 }),
      clock: options.clock ?? new FakeClock(NOON_MS + 24 * HOUR_MS),
      random: () => 0.5,
    });
  }

  storeContract('the store in InfluxDB', async () => {
    const store = open();
    return {
      store,
      settle: async () => {
        expect(await store.drain()).toBe(true);
      },
    };
  });

  it('bridges an outage: nothing lost, nothing doubled, in order, across a restart of the monitor', async () => {
    const folder = tempFolder();
    const database = 'outage';
    const facts = (from: number, to: number): readonly Fact[] =>
      Array.from({ length: to - from }, (_, n) => [
        reading('temp-south', NOON_MS + (from + n) * MINUTE_MS, { rawValue: from + n }),
        note(NOON_MS + (from + n) * MINUTE_MS, `${from + n}`),
      ]).flat();
    const first = open({ folder, database });
    await first.keep(facts(0, 300));
    expect(await first.drain()).toBe(true);
    await influxd.halt('SIGKILL');
    await first.keep(facts(300, 3000));
    expect(await first.drain()).toBe(false);
    expect(await first.readings('temp-south', everything, 1)).toHaveLength(1);
    await first.close();
    const second = open({ folder, database });
    await second.keep(facts(3000, 3100));
    await influxd.resume();
    expect(await second.drain()).toBe(true);
    const readings = await second.readings('temp-south', everything, 10_000);
    expect(readings.map(({ rawValue }) => rawValue)).toEqual(Array.from({ length: 3100 }, (_, n) => n));
    expect(await second.facts(['note'], everything, 10_000)).toEqual(
      facts(0, 3100).filter(({ kind }) => kind === 'note'),
    );
    expect(second.health()).toEqual({ ok: true, reason: '' });
    await second.close();
  });

  it('answers from this machine while the server is away, says so after a minute, and that all is well when it is back', async () => {
    const clock = new FakeClock(NOON_MS + 24 * HOUR_MS);
    const store = open({ clock });
    await influxd.halt();
    await store.keep([
      note(NOON_MS, 'during the outage'),
      newTray('t1', NOON_MS),
      forecast('t1', NOON_MS, 0.5),
    ]);
    await store.flush();
    expect(await store.drain()).toBe(false);
    expect(await store.facts(['note', 'watering'], everything, 9)).toEqual([
      note(NOON_MS, 'during the outage'),
    ]);
    expect(await store.facts(['tray-event'], everything, 9)).toHaveLength(1);
    expect(await store.forecasts('t1', everything)).toHaveLength(1);
    expect(await store.latestForecasts()).toHaveLength(1);
    expect(await store.probes()).toEqual([]);
    const alone = openInfluxReview({ server: influxSchema.parse({ url: influxd.url }), farm: 'alder-row' });
    await expect(alone.probes()).rejects.toMatchObject({ code: 'database-away', retryable: true });
    expect(store.health().ok).toBe(true);
    await clock.advance(MINUTE_MS);
    await store.drain();
    expect(store.health()).toMatchObject({
      ok: false,
      reason: 'database-away',
      own: ['asItIs', expect.stringContaining('3 facts wait in the spool')],
    });
    await influxd.resume();
    expect(await store.drain()).toBe(true);
    expect(store.health().ok).toBe(true);
    await store.close();
  });

  it('sends again what it had sent when it was killed before it could forget it, and nothing is doubled', async () => {
    const folder = tempFolder();
    const store = open({ folder, database: 'again' });
    await store.keep([note(NOON_MS, 'one'), note(NOON_MS, 'two'), moisture('moist-t1', NOON_MS, 0.4)]);
    await store.flush();
    const copy = new Database(join(folder, SPOOL_FILE));
    const rows = copy.prepare('SELECT number, at_ms, body FROM spool').all();
    expect(rows).toHaveLength(3);
    expect(await store.drain()).toBe(true);
    const putBack = copy.prepare('INSERT INTO spool (number, at_ms, body) VALUES (@number, @at_ms, @body)');
    for (const row of rows) putBack.run(row);
    copy.close();
    expect(await store.drain()).toBe(true);
    expect(await store.facts(['note'], everything, 10)).toHaveLength(2);
    expect(await store.readings('moist-t1', everything, 10)).toHaveLength(1);
    await store.close();
  });

  it('sets points that the schema refuses apart with the reason, keeps the good ones of the batch, and says so', async () => {
    const database = 'conflict';
    const folder = tempFolder();
    const client = influxd.client(database);
    await client.createDatabase(database);
    await client.writePoints([
      {
        measurement: 'reading',
        tags: { farm: 'other' },
        fields: { flag: 'somebody wrote text here' },
        timestamp: `${NOON_MS}000000`,
      },
    ]);
    const store = open({ folder, database });
    await store.keep([
      ...Array.from({ length: 50 }, (_, n) => reading('temp-south', NOON_MS + n)),
      note(NOON_MS, 'good'),
    ]);
    await store.flush();
    expect(await store.drain()).toBe(true);
    expect(await store.facts(['note'], everything, 10)).toEqual([note(NOON_MS, 'good')]);
    expect(store.health()).toMatchObject({
      ok: false,
      reason: 'quarantined',
      own: ['asItIs', expect.stringMatching(/refused 50 facts.*field type conflict/)],
    });
    await store.close();
    const spool = new Database(join(folder, SPOOL_FILE), { readonly: true });
    expect(spool.prepare('SELECT count(*) FROM spool').pluck().get()).toBe(0);
    expect(
      spool
        .prepare("SELECT count(*) FROM quarantine WHERE reason LIKE '%field type conflict%'")
        .pluck()
        .get(),
    ).toBe(50);
    spool.close();
  });

  it('sets points beyond the retention policy apart, however many, with few requests', async () => {
    const database = 'short';
    const client = influxd.client(database);
    await client.createDatabase(database);
    await client.createRetentionPolicy('month', {
      database,
      duration: '30d',
      replication: 1,
      isDefault: true,
    });
    const store = open({ database });
    const nowMs = Date.now();
    await store.keep([
      ...Array.from({ length: 500 }, (_, n) => reading('temp-south', nowMs - 90 * 24 * HOUR_MS + n)),
      reading('temp-south', nowMs - HOUR_MS),
    ]);
    await store.flush();
    expect(await store.drain()).toBe(true);
    expect(
      await store.readings('temp-south', { fromMs: nowMs - 200 * 24 * HOUR_MS, toMs: nowMs }, 1000),
    ).toHaveLength(1);
    expect(store.health()).toMatchObject({
      reason: 'quarantined',
      own: ['asItIs', expect.stringContaining('refused 500 facts')],
    });
    await store.close();
  });

  it('keeps values that InfluxDB has no way to write', async () => {
    const store = open();
    await store.keep([
      reading('temp-south', NOON_MS, { rawValue: Number.NaN }),
      reading('temp-south', NOON_MS + 1, {
        calibrationId: 'it\'s \\\' odd, = and "so"',
        flag: 3,
        flagReasons: ["a\\'b", ''],
      }),
    ]);
    await store.flush();
    expect(await store.drain()).toBe(true);
    const back = await store.readings('temp-south', everything, 10);
    expect(back[0]).toMatchObject({ rawValue: undefined, flag: 9, flagReasons: ['not-finite'] });
    expect(back[1]).toMatchObject({
      calibrationId: 'it\'s \\\' odd, = and "so"',
      flagReasons: ["a\\'b", ''],
    });
    await store.close();
  });

  it('takes ten monitors that write at once, and review without a board sees them all and each', async () => {
    const database = 'houses';
    const monitors = Array.from({ length: 10 }, (_, n) => `house-${n}`);
    await Promise.all(
      monitors.map(async (monitor) => {
        const store = open({ database, monitor });
        for (let minute = 0; minute < 30; minute++)
          await store.keep(
            Array.from({ length: 10 }, (_, probe) =>
              reading(`${monitor}-${probe}`, NOON_MS + minute * MINUTE_MS),
            ),
          );
        await store.keep([alarm(`${monitor}-t1`, NOON_MS), newTray(`${monitor}-t1`, NOON_MS)]);
        await store.flush();
        expect(await store.drain()).toBe(true);
        await store.close();
      }),
    );
    const server = influxSchema.parse({ url: influxd.url, database });
    const all = openInfluxReview({ server, farm: 'alder-row' });
    const probes = await all.probes();
    expect(probes).toHaveLength(100);
    for (const { probeId } of probes) expect(await all.readings(probeId, everything, 1000)).toHaveLength(30);
    expect(await all.facts(['alarm'], everything, 100)).toHaveLength(10);
    const one = openInfluxReview({ server, farm: 'alder-row', monitor: 'house-3' });
    expect(await one.probes()).toHaveLength(10);
    expect(await one.facts(['alarm', 'tray-event'], everything, 100)).toHaveLength(2);
    expect(await openInfluxReview({ server, farm: 'other-farm' }).probes()).toEqual([]);
  });

  it('holds facts in memory when the spool may not grow any more, and goes on when the server is back', async () => {
    const clock = new FakeClock(NOON_MS + 24 * HOUR_MS);
    const folder = tempFolder();
    const store = openInfluxStore({
      folder,
      farm: 'alder-row',
      influx: influxSchema.parse({ url: influxd.url, database: 'narrow', spoolLimitMb: 1 }),
      clock,
      random: () => 0.5,
    });
    const facts = Array.from({ length: 1500 }, (_, n) => note(NOON_MS + n, `${n} ${'x'.repeat(1000)}`));
    await influxd.halt();
    for (let n = 0; n < facts.length; n += 50) await store.keep(facts.slice(n, n + 50));
    expect(store.health()).toMatchObject({ ok: false, reason: 'disk-full' });
    expect(await store.drain()).toBe(false);
    await influxd.resume();
    while (!store.health().ok) {
      await store.drain();
      await clock.advance(5000);
    }
    await store.drain();
    expect(await store.facts(['note'], everything, 5000)).toEqual(facts);
    await store.close();
  });

  it('asks for what is not there with nothing, and for a database that is not there with a code', async () => {
    const server = influxSchema.parse({ url: influxd.url, database: 'nowhere' });
    await expect(openInfluxReview({ server, farm: 'alder-row' }).probes()).rejects.toMatchObject({
      code: 'refused',
    });
  });
});

describeIf('influxd', 'a server that is new', () => {
  it('and does not have the database yet keeps no monitor from starting', async () => {
    const influxd = await Influxd.start();
    const store = openInfluxStore({
      folder: tempFolder(),
      farm: 'alder-row',
      influx: influxSchema.parse({ url: influxd.url }),
      clock: new FakeClock(NOON_MS),
      random: () => 0,
    });
    expect(await store.facts(['tray-event'], { fromMs: 0, toMs: NOON_MS }, 10)).toEqual([]);
    expect(await store.probes()).toEqual([]);
    await store.close();
    await influxd.stop();
  });
});

describe('a server that answers badly', () => {
  it.each([
    [401, 'refused'],
    [503, 'database-away'],
  ])('HTTP %i keeps everything in the spool and is told as %s', async (status, reason) => {
    const server = createServer((_, response) => {
      response.statusCode = status;
      response.end('{"error":"no"}');
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    const address = server.address();
    const port = address !== null && typeof address === 'object' ? address.port : 0;
    const clock = new FakeClock(NOON_MS);
    const store = openInfluxStore({
      folder: tempFolder(),
      farm: 'alder-row',
      influx: influxSchema.parse({ url: `http://127.0.0.1:${port}` }),
      clock,
      random: () => 0,
    });
    await store.keep([note(NOON_MS, 'kept')]);
    expect(await store.drain()).toBe(false);
    await clock.advance(2 * MINUTE_MS);
    await store.drain();
    expect(store.health()).toMatchObject({
      ok: false,
      reason,
      own: ['asItIs', expect.stringContaining('1 facts wait in the spool')],
    });
    // the house starts all the same, with what this machine has
    expect(await store.facts(['tray-event'], { fromMs: 0, toMs: NOON_MS + 1 }, 10)).toEqual([]);
    await store.close();
    await new Promise((resolve) => server.close(resolve));
  });
});

describe('retryDelaysMs()', () => {
  it('doubles up to a minute, shortened by at most half', () => {
    const delays = retryDelaysMs(() => 0);
    expect(Array.from({ length: 8 }, () => delays.next().value)).toEqual([
      1000, 2000, 4000, 8000, 16000, 32000, 60000, 60000,
    ]);
    expect(retryDelaysMs(() => 1).next().value).toBe(500);
  });
});
