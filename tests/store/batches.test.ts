import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { Database } from '../../src/host/disk/sqlite.js';
import { migrate, SCHEMA_VERSION } from '../../src/store/sqlite/file/schema.js';
import { STORE_FILE } from '../../src/store/sqlite/file/store-file.js';
import { openSqliteReview } from '../../src/store/sqlite/open-sqlite-review.js';
import { openSqliteStore } from '../../src/store/sqlite/open-sqlite-store.js';
import { backUpStore } from '../../src/store/sqlite/upkeep/backup.js';
import { FakeClock } from './helpers/fake-clock.js';
import {
  alarm,
  forecast,
  HOUR_MS,
  MINUTE_MS,
  moisture,
  NOON_MS,
  note,
  reading,
} from './helpers/sample-facts.js';
import { tempFolder } from './helpers/temp-folder.js';

const everything = { fromMs: NOON_MS - HOUR_MS, toMs: NOON_MS + 1000 * HOUR_MS };

describe('batches', () => {
  function opened() {
    const folder = tempFolder();
    const clock = new FakeClock(NOON_MS);
    const store = openSqliteStore({ folder, clock });
    const onDisk = async () => {
      const review = openSqliteReview({ folder });
      const readings = await review.readings('temp-south', everything, 1000);
      await review.close();
      return readings.length;
    };
    return { store, clock, onDisk, folder };
  }
  const minutes = (count: number) =>
    Array.from({ length: count }, (_, n) => reading('temp-south', NOON_MS + n * 1000));

  it('hold readings back for a minute, then write them without being asked', async () => {
    const { store, clock, onDisk } = opened();
    await store.keep(minutes(10));
    await clock.advance(MINUTE_MS - 1);
    expect(await onDisk()).toBe(0);
    await clock.advance(1);
    expect(await onDisk()).toBe(10);
    await store.close();
  });

  it('are written when 60 readings have come together', async () => {
    const { store, onDisk } = opened();
    for (const fact of minutes(59)) await store.keep([fact]);
    expect(await onDisk()).toBe(0);
    await store.keep([reading('temp-south', NOON_MS + HOUR_MS)]);
    expect(await onDisk()).toBe(60);
    await store.close();
  });

  it('are written at once with an alarm that comes after them', async () => {
    const { store, onDisk } = opened();
    await store.keep(minutes(3));
    await store.keep([alarm('t1', NOON_MS)]);
    expect(await onDisk()).toBe(3);
    await store.close();
  });

  it('are written when the store is closed', async () => {
    const { store, onDisk } = opened();
    await store.keep(minutes(3));
    await store.close();
    expect(await onDisk()).toBe(3);
  });
});

describe('backUpStore()', () => {
  it('copies one moment while the store goes on writing, and the copy opens as a store', async () => {
    const folder = tempFolder();
    const clock = new FakeClock(NOON_MS + 24 * HOUR_MS);
    const store = openSqliteStore({ folder, clock });
    await store.keep(Array.from({ length: 5000 }, (_, n) => reading('temp-south', NOON_MS + n * 1000)));
    await store.keep([note(NOON_MS, 'before')]);
    const target = tempFolder();
    const backingUp = backUpStore(folder, join(target, STORE_FILE));
    await store.keep([note(NOON_MS + 1, 'meanwhile')]);
    const report = await backingUp;
    await store.keep([note(NOON_MS + 2, 'after')]);
    await store.close();
    expect(report.readingCount).toBe(5000);
    const restored = openSqliteStore({ folder: target, clock });
    expect(await restored.readings('temp-south', everything, 9999)).toHaveLength(5000);
    const texts = (await restored.facts(['note'], everything, 9)).flatMap((fact) =>
      fact.kind === 'note' ? fact.text : [],
    );
    expect(texts.slice(0, 1)).toEqual(['before']);
    expect(texts).not.toContain('after');
    await restored.close();
  });

  it('never overwrites a file, and leaves no half one behind', async () => {
    const folder = tempFolder();
    await openSqliteStore({ folder, clock: new FakeClock(NOON_MS) }).close();
    const path = join(folder, 'mine.db');
    writeFileSync(path, 'mine');
    await expect(backUpStore(folder, path)).rejects.toMatchObject({ code: 'backup-exists' });
    await expect(backUpStore(folder, join(folder, 'no', 'b.db'))).rejects.toMatchObject({
      code: 'folder-missing',
    });
    await expect(backUpStore(tempFolder(), join(folder, 'b.db'))).rejects.toMatchObject({
      code: 'folder-missing',
    });
  });
});

describe('migrations', () => {
  const bare = {
    trayId: 't1',
    startedAtMs: NOON_MS - 2 * HOUR_MS,
    endedAtMs: NOON_MS,
    startWaterContentM3PerM3: 0.5,
    endWaterContentM3PerM3: 0.25,
    hasProbe: false,
  };
  const samples = [
    { elapsedH: 0, waterContentM3PerM3: 0.5 },
    { elapsedH: 2, waterContentM3PerM3: 0.25 },
  ];
  const oldDryDown = { kind: 'dry-down', dryDown: { ...bare, samples } };
  /** 0, 0.5, 2, 0.25 as little-endian IEEE 754 doubles, written out by hand. */
  const CURVE_HEX = '0000000000000000000000000000E03F0000000000000040000000000000D03F';

  /** Rows as each old version wrote them; a new version adds its own fixture and keeps the others. */
  const written: Record<number, string> = {
    0: '',
    1: `INSERT INTO probe_series VALUES (1, 'moist-t1', 'V');
        INSERT INTO remark VALUES (1, 3, '["spike"]', 'cal-1');
        INSERT INTO reading VALUES (${NOON_MS}, 1, 1950000, 420000, 1);
        INSERT INTO tray_name VALUES (1, 't1');
        INSERT INTO forecast VALUES (${NOON_MS}, 1, 0.5, 0.02, 6.1, 8, NULL, 4, 5.5, 9, 'probe', NULL);
        INSERT INTO fact (at_ms, kind, body) VALUES (${NOON_MS}, 'note', '${JSON.stringify(note(NOON_MS, 'old'))}');
        INSERT INTO state VALUES ('desk', ${NOON_MS}, '{"n":1}');
        INSERT INTO fact (at_ms, kind, tray_id, body) VALUES (${NOON_MS}, 'dry-down', 't1', '${JSON.stringify(oldDryDown)}');
        INSERT INTO mark VALUES ('closed-cleanly', 1);`,
  };
  written[2] = `${written[1]}
    UPDATE forecast SET container_capacity_m3_per_m3 = 0.62, refill_point_m3_per_m3 = 0.31;
    UPDATE fact SET body = '${JSON.stringify({ kind: 'dry-down', dryDown: bare })}', curve = X'${CURVE_HEX}'
      WHERE kind = 'dry-down';`.replace(/(INSERT INTO forecast VALUES \([^)]*)\)/, '$1, NULL, NULL)');

  written[3] = `${written[2]}
    UPDATE fact SET check_word = 2914614980 WHERE kind = 'note';`.replace(
    /(INSERT INTO state VALUES \([^)]*)\)/,
    '$1, 738006260)',
  );

  it("are the monitor's: who only reads a store of an older version is told to start it once", () => {
    const folder = tempFolder();
    const file = new Database(join(folder, STORE_FILE));
    file.pragma(`application_id = ${0x44_72_79_42}`);
    migrate(file, 1);
    file.close();
    expect(() => openSqliteReview({ folder })).toThrow(expect.objectContaining({ code: 'older-version' }));
  });

  it('have a fixture for every version that was', () => {
    expect(Object.keys(written).map(Number)).toEqual(
      Array.from({ length: SCHEMA_VERSION + 1 }, (_, version) => version),
    );
  });

  it.each(Object.entries(written))(
    'carry a store of version %s to the newest with all that is in it',
    async (version, rows) => {
      const folder = tempFolder();
      const file = new Database(join(folder, STORE_FILE));
      if (version !== '0') file.pragma(`application_id = ${0x44_72_79_42}`);
      migrate(file, Number(version));
      file.exec(rows);
      file.close();
      const store = openSqliteStore({ folder, clock: new FakeClock(NOON_MS + HOUR_MS) });
      if (version !== '0') {
        const { kind, ...wanted } = {
          kind: 'reading',
          ...Object(moisture('moist-t1', NOON_MS, 0.42, { flag: 3, flagReasons: ['spike'] })).reading,
        };
        expect(kind).toBe('reading');
        expect(await store.readings('moist-t1', everything, 9)).toEqual([wanted]);
        expect(await store.facts(['note'], everything, 9)).toEqual([note(NOON_MS, 'old')]);
        expect(await store.forecasts('t1', everything)).toHaveLength(1);
        expect(await store.loadState('desk')).toEqual({ n: 1 });
        expect(await store.dryDowns(everything)).toEqual([{ ...bare, samples }]);
        expect(await store.dryDownSummaries(everything)).toEqual([bare]);
        const [latest] = await store.latestForecasts();
        expect(latest?.refillPointM3PerM3).toBe(version === '1' ? undefined : 0.31);
      }
      await store.keep([
        forecast('t1', NOON_MS + HOUR_MS, 0.4),
        moisture('moist-t1', NOON_MS + HOUR_MS, 0.4),
      ]);
      await store.flush();
      expect(await store.forecasts('t1', everything)).toHaveLength(version === '0' ? 1 : 2);
      await store.close();
    },
  );
});
