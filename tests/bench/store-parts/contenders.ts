import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { influxSchema } from '../../../shared/config/store.js';
import { Database } from '../../../src/host/disk/sqlite.js';
import type { JudgedReading } from '../../../src/monitor/ports/facts.js';
import { openInfluxReview } from '../../../src/store/influx/influx-review.js';
import { openInfluxStore } from '../../../src/store/influx/open-influx-store.js';
import { toPoint } from '../../../src/store/influx/point.js';
import { openForReading } from '../../../src/store/sqlite/file/store-file.js';
import { openSqliteStore } from '../../../src/store/sqlite/open-sqlite-store.js';
import { FakeClock } from '../../store/helpers/fake-clock.js';
import { Influxd } from '../../store/helpers/influxd.js';
import type { Contender } from './contender.js';
import { asFacts } from './year-of-readings.js';

export function folderBytes(folder: string): number {
  return readdirSync(folder, { withFileTypes: true }).reduce(
    (sum, entry) =>
      sum +
      (entry.isDirectory() ? folderBytes(join(folder, entry.name)) : statSync(join(folder, entry.name)).size),
    0,
  );
}

/** Drybell's own store, through the same door as the monitor uses. */
export function drybellStore(folder: string, nowMs: number, batchReadings: number): Contender {
  const store = openSqliteStore({ folder, clock: new FakeClock(nowMs), batchReadings, readingsDays: 36_500 });
  return {
    name: 'Drybell, SQLite',
    write: async (readings) => void (await store.keep(asFacts(readings))),
    settle: () => store.flush(),
    chart: (probeId, span, bucketCount) => store.readingBuckets(probeId, span, bucketCount),
    bytes: async () => {
      const db = openForReading(folder);
      const sum = (where: string) =>
        Number(db.prepare(`SELECT coalesce(sum(pgsize), 0) FROM dbstat WHERE ${where}`).pluck().get());
      const bytes = { readings: sum("name = 'reading'"), all: sum('1') };
      db.close();
      return bytes;
    },
    close: () => store.close(),
  };
}

/** The store before InfluxDB while the server is away: everything goes into the spool. */
export function spool(
  folder: string,
  nowMs: number,
  batchReadings: number,
): Pick<Contender, 'write' | 'close'> {
  const store = openInfluxStore({
    folder,
    farm: 'alder-row',
    influx: influxSchema.parse({ url: 'http://127.0.0.1:9' }),
    clock: new FakeClock(nowMs),
    random: () => 0,
    batchReadings,
  });
  return {
    write: async (readings) => void (await store.keep(asFacts(readings))),
    close: () => store.close(),
  };
}

/** The table that anybody would make: one row a reading, a number for the row, an index over probe and time. */
export function bareTable(folder: string): Contender {
  const db = new Database(join(folder, 'bare.db'));
  db.pragma('journal_mode = WAL');
  db.pragma('synchronous = NORMAL');
  db.exec(`CREATE TABLE reading (id INTEGER PRIMARY KEY, probe TEXT, at INTEGER, raw REAL, converted REAL, flag INTEGER,
           calibration TEXT); CREATE INDEX by_probe ON reading (probe, at)`);
  const insert = db.prepare(
    'INSERT INTO reading (probe, at, raw, converted, flag, calibration) VALUES (?, ?, ?, ?, ?, ?)',
  );
  const write = db.transaction((readings: readonly JudgedReading[]) => {
    for (const r of readings)
      insert.run(
        r.probeId,
        r.observedAtMs,
        r.rawValue,
        r.waterContentM3PerM3 ?? null,
        r.flag,
        r.calibrationId ?? null,
      );
  });
  return {
    name: 'bare SQLite table',
    write: async (readings) => write(readings),
    settle: async () => void db.pragma('wal_checkpoint(TRUNCATE)'),
    chart: async (probeId, { fromMs, toMs }, bucketCount) =>
      db
        .prepare(
          `SELECT CAST((at - @fromMs) / @widthMs AS INTEGER) AS bucket, min(coalesce(converted, raw)), avg(coalesce(converted, raw)),
           max(coalesce(converted, raw)), count(*) FROM reading WHERE probe = @probeId AND at >= @fromMs AND at < @toMs GROUP BY bucket`,
        )
        .raw()
        .all({ probeId, fromMs, toMs, widthMs: (toMs - fromMs) / bucketCount }).length,
    bytes: async () => ({ readings: folderBytes(folder), all: folderBytes(folder) }),
    close: async () => void db.close(),
  };
}

/** A real InfluxDB 1.x, written and asked as Drybell does it, without the spool. */
export async function influxdb(): Promise<Contender> {
  const influxd = await Influxd.start({ compactsSoon: true });
  const client = influxd.client('bench');
  await client.createDatabase('bench');
  const server = influxSchema.parse({ url: influxd.url, database: 'bench', requestTimeoutS: 120 });
  const review = openInfluxReview({ server, farm: 'alder-row' });
  const origin = { farm: 'alder-row', monitor: 'bench' };
  return {
    name: 'InfluxDB 1.x',
    write: (readings) =>
      client.writePoints(
        asFacts(readings).map((fact, index) =>
          toPoint(fact, origin, index, readings[index]?.observedAtMs ?? 0),
        ),
      ),
    settle: () => untilSettled(influxd.dataFolder),
    chart: (probeId, span, bucketCount) => review.readingBuckets(probeId, span, bucketCount),
    bytes: async () => ({ readings: folderBytes(influxd.dataFolder), all: folderBytes(influxd.dataFolder) }),
    close: () => influxd.stop(),
  };
}

/** Waits until the folder's size has stood still for five seconds: InfluxDB compacts in the background. */
async function untilSettled(folder: string): Promise<void> {
  const LOOKS = 5;
  for (let same = 0, before = -1; same < LOOKS; ) {
    await new Promise((resolve) => setTimeout(resolve, 1000));
    const now = folderBytes(folder);
    same = now === before && now > 0 ? same + 1 : 0;
    before = now;
  }
}
