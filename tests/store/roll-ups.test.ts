import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Fact } from '../../src/monitor/ports/facts.js';
import type { ReadingBucket } from '../../src/monitor/ports/ports.js';
import { BucketFold } from '../../src/store/both/bucket-fold.js';
import { openSqliteStore } from '../../src/store/sqlite/open-sqlite-store.js';
import { createMemoryStore } from '../helpers/memory-store.js';
import { FakeClock } from './helpers/fake-clock.js';
import { HOUR_MS, MINUTE_MS, moisture, NOON_MS, reading } from './helpers/sample-facts.js';
import { seededRandom } from './helpers/seeded-random.js';
import { tempFolder } from './helpers/temp-folder.js';

const DAY_MS = 24 * HOUR_MS;
/** Raw values are kept to a millionth and means are sums of them. */
const CLOSE = 1e-6;

function season(days: number, random: () => number): readonly Fact[] {
  return Array.from({ length: days * 288 }, (_, n) => {
    const atMs = NOON_MS + n * 5 * MINUTE_MS + Math.floor(random() * 1000);
    const chance = random();
    if (chance < 0.02)
      return reading('moist-t1', atMs, {
        rawUnit: 'V',
        rawValue: undefined,
        flag: 9,
        flagReasons: ['missing'],
      });
    const flagged = chance < 0.06 ? { flag: 4 as const, flagReasons: ['spike'] } : {};
    return moisture('moist-t1', atMs, 0.6 - 0.3 * random(), flagged);
  });
}

function expectSameBuckets(got: readonly ReadingBucket[], want: readonly ReadingBucket[]): void {
  expect(got.map(({ atMs, count, flaggedCount }) => [atMs, count, flaggedCount])).toEqual(
    want.map(({ atMs, count, flaggedCount }) => [atMs, count, flaggedCount]),
  );
  got.forEach((bucket, index) => {
    for (const key of ['min', 'mean', 'max'] as const)
      expect(Math.abs(bucket[key] - (want[index]?.[key] ?? Number.NaN))).toBeLessThan(CLOSE);
  });
}

describe('charts from roll-ups', () => {
  async function both(facts: readonly Fact[], days: number, readingsDays: number) {
    const clock = new FakeClock(NOON_MS + days * DAY_MS + HOUR_MS);
    const sqlite = openSqliteStore({ folder: tempFolder(), clock, readingsDays });
    const memory = createMemoryStore();
    await sqlite.keep(facts);
    await memory.keep(facts);
    await sqlite.flush();
    return { sqlite, memory, clock };
  }

  it('are what the single readings give, hour by hour, day by day, late readings and doubles included', async () => {
    const random = seededRandom(7);
    const facts = season(20, random);
    const shuffled = [...facts].sort(() => random() - 0.5);
    const { sqlite, memory } = await both(facts, 20, 800);
    for (const store of [sqlite, memory]) await store.keep(shuffled.slice(0, 300));
    await sqlite.flush();
    const span = { fromMs: NOON_MS, toMs: NOON_MS + 20 * DAY_MS };
    for (const bucketCount of [20, 60, 120, 480, 2880])
      expectSameBuckets(
        await sqlite.readingBuckets('moist-t1', span, bucketCount),
        await memory.readingBuckets('moist-t1', span, bucketCount),
      );
    await sqlite.close();
  });

  it('count readings that came after their hour was rolled up', async () => {
    const facts = season(3, seededRandom(8));
    const early = facts.filter((_, n) => n % 10 !== 0);
    const late = facts.filter((_, n) => n % 10 === 0);
    const { sqlite, memory } = await both(early, 3, 800);
    for (const fact of late) {
      await sqlite.keep([fact]);
      await memory.keep([fact]);
    }
    await sqlite.flush();
    const span = { fromMs: NOON_MS, toMs: NOON_MS + 3 * DAY_MS };
    expectSameBuckets(
      await sqlite.readingBuckets('moist-t1', span, 18),
      await memory.readingBuckets('moist-t1', span, 18),
    );
    await sqlite.close();
  });

  it('stay when single readings grow too old, and take a reading that comes even later', async () => {
    const facts = season(20, seededRandom(9));
    const { sqlite, memory, clock } = await both(facts, 20, 7);
    await clock.advance(10 * MINUTE_MS);
    const old = { fromMs: NOON_MS, toMs: NOON_MS + 10 * DAY_MS };
    expect(await sqlite.readings('moist-t1', old, 100_000)).toEqual([]);
    expect(
      await sqlite.readings(
        'moist-t1',
        { fromMs: NOON_MS + 15 * DAY_MS, toMs: NOON_MS + 20 * DAY_MS },
        100_000,
      ),
    ).not.toEqual([]);
    const late = moisture('moist-t1', NOON_MS + 5 * DAY_MS + 30 * 1000, 0.1);
    for (const store of [sqlite, memory]) await store.keep([late]);
    await sqlite.flush();
    const span = { fromMs: NOON_MS, toMs: NOON_MS + 20 * DAY_MS };
    for (const bucketCount of [20, 60])
      expectSameBuckets(
        await sqlite.readingBuckets('moist-t1', span, bucketCount),
        await memory.readingBuckets('moist-t1', span, bucketCount),
      );
    expect((await sqlite.probes())[0]?.firstAtMs).toBe(NOON_MS);
    await sqlite.close();
  });

  it('lose a month of single readings at most to a clock that jumps ahead for a day', async () => {
    const folder = tempFolder();
    const clock = new FakeClock(NOON_MS + 100 * DAY_MS);
    const store = openSqliteStore({ folder, clock, readingsDays: 200 });
    await store.keep(
      Array.from({ length: 100 }, (_, day) => moisture('moist-t1', NOON_MS + day * DAY_MS, 0.4)),
    );
    await store.flush();
    await store.close();
    const ahead = new FakeClock(NOON_MS + 5000 * DAY_MS);
    const jumped = openSqliteStore({ folder, clock: ahead, readingsDays: 200 });
    await jumped.keep([moisture('moist-t1', ahead.nowMs(), 0.4)]);
    await ahead.advance(30 * MINUTE_MS);
    const span = { fromMs: NOON_MS, toMs: NOON_MS + 100 * DAY_MS };
    expect(await jumped.readings('moist-t1', span, 1000)).toHaveLength(70);
    expect((await jumped.readingBuckets('moist-t1', span, 100)).length).toBe(100);
    await jumped.close();
  });

  it('serve a narrow chart of days whose single readings are gone', async () => {
    const { sqlite, clock } = await both(season(20, seededRandom(10)), 20, 7);
    await clock.advance(10 * MINUTE_MS);
    const day = { fromMs: NOON_MS + DAY_MS, toMs: NOON_MS + 2 * DAY_MS };
    const buckets = await sqlite.readingBuckets('moist-t1', day, 1000);
    expect(buckets).toHaveLength(144);
    expect(buckets.reduce((sum, { count }) => sum + count, 0)).toBe(288);
    await sqlite.close();
  });
});

describe('BucketFold', () => {
  const one = fc.record({
    flag: fc.constantFrom(1, 2, 3, 4, 9),
    water: fc.option(fc.double({ min: 0, max: 1, noNaN: true }), { nil: undefined }),
    raw: fc.option(fc.double({ min: 0, max: 5, noNaN: true }), { nil: undefined }),
  });

  it('gives for groups of groups what their readings give', () => {
    fc.assert(
      fc.property(fc.array(fc.array(one, { maxLength: 5 }), { maxLength: 6 }), (groups) => {
        const direct = new BucketFold();
        const ofGroups = new BucketFold();
        for (const group of groups) {
          const fold = new BucketFold();
          for (const { flag, water, raw } of group)
            for (const into of [fold, direct]) into.addReading(flag < 3, water, raw);
          ofGroups.addFolded(fold.folded());
        }
        const [got, want] = [ofGroups.folded(), direct.folded()];
        expect({ ...got, mean: 0 }).toEqual({ ...want, mean: 0 });
        expect(got.mean).toBeCloseTo(want.mean, 9);
      }),
    );
  });
});
