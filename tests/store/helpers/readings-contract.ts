import { describe, expect, it } from 'vitest';
import type { Fact, JudgedReading } from '../../../src/monitor/ports/facts.js';
import { type OpenStore, storeWith } from './opened-store.js';
import { HOUR_MS, MINUTE_MS, moisture, NOON_MS, reading } from './sample-facts.js';

/** Volts and water contents are kept to a millionth; rounding may be off by half of it. */
const HALF_STEP = 0.51e-6;

const everything = { fromMs: NOON_MS - 30 * 24 * HOUR_MS, toMs: NOON_MS + 30 * 24 * HOUR_MS };
const readingsOf = (facts: readonly Fact[]): readonly JudgedReading[] =>
  facts.flatMap((fact) => (fact.kind === 'reading' ? [fact.reading] : []));

/** What every store must do with readings, whatever it keeps them in. */
export function readingsContract(name: string, open: OpenStore): void {
  describe(`${name} keeps readings by the store's contract`, () => {
    const withFacts = (facts: readonly Fact[]) => storeWith(open, facts);

    it('gives back readings whole: raw, converted, flag, reasons and calibration together', async () => {
      const facts = [
        moisture('moist-t1', NOON_MS + 123, 0.512345),
        moisture('moist-t1', NOON_MS + MINUTE_MS, 0.41, { flag: 3, flagReasons: ['spike', 'rate, "fast"'] }),
        moisture('moist-t1', NOON_MS + 2 * MINUTE_MS, 0.4, {
          waterContentM3PerM3: undefined,
          calibrationId: undefined,
        }),
        reading('moist-t1', NOON_MS + 3 * MINUTE_MS, {
          rawUnit: 'V',
          rawValue: undefined,
          flag: 9,
          flagReasons: ['missing'],
        }),
      ];
      const { store } = await withFacts(facts);
      const back = await store.readings('moist-t1', everything, 100);
      expect(back).toHaveLength(4);
      readingsOf(facts).forEach((want, index) => {
        const got = back[index];
        expect(got).toMatchObject({
          probeId: 'moist-t1',
          observedAtMs: want.observedAtMs,
          rawUnit: 'V',
          flag: want.flag,
          flagReasons: want.flagReasons,
          calibrationId: want.calibrationId,
        });
        expect(got?.rawValue === undefined).toBe(want.rawValue === undefined);
        expect(got?.waterContentM3PerM3 === undefined).toBe(want.waterContentM3PerM3 === undefined);
        expect(Math.abs((got?.rawValue ?? 0) - (want.rawValue ?? 0))).toBeLessThan(HALF_STEP);
        expect(Math.abs((got?.waterContentM3PerM3 ?? 0) - (want.waterContentM3PerM3 ?? 0))).toBeLessThan(
          HALF_STEP,
        );
      });
      await store.close();
    });

    it('puts late readings in their place, and takes a reading that comes twice once', async () => {
      const first = reading('temp-south', NOON_MS, { rawValue: 20 });
      const second = reading('temp-south', NOON_MS + MINUTE_MS, { rawValue: 21 });
      const late = reading('temp-south', NOON_MS - 5 * HOUR_MS, { rawValue: 12 });
      const { store, settle } = await withFacts([first, second, second, first]);
      await store.keep([late, first]);
      await store.flush();
      await settle();
      expect((await store.readings('temp-south', everything, 100)).map(({ rawValue }) => rawValue)).toEqual([
        12, 20, 21,
      ]);
      await store.close();
    });

    it('keeps the newest when limited, oldest first', async () => {
      const { store } = await withFacts(
        [0, 1, 2, 3, 4].map((n) => reading('temp-south', NOON_MS + n * MINUTE_MS, { rawValue: n })),
      );
      const back = await store.readings('temp-south', everything, 2);
      expect(back.map(({ rawValue }) => rawValue)).toEqual([3, 4]);
      await store.close();
    });

    it('a reading merely beyond its calibration counts, one with any other doubt does not', async () => {
      const wet = { flag: 3, rawUnit: 'V', rawValue: 1.2, waterContentM3PerM3: 0.62 } as const;
      const doubted = { ...wet, waterContentM3PerM3: 0.3 };
      const { store } = await withFacts([
        reading('moist-t1', NOON_MS, { ...wet, flagReasons: ['beyond-calibration'] }),
        reading('moist-t1', NOON_MS + 1000, { ...doubted, flagReasons: ['beyond-calibration', 'spike'] }),
        reading('moist-t1', NOON_MS + 2000, { ...doubted, flagReasons: ['flat-line'] }),
      ]);
      await store.flush();
      const [bucket] = await store.readingBuckets(
        'moist-t1',
        { fromMs: NOON_MS, toMs: NOON_MS + HOUR_MS },
        1,
      );
      expect(bucket).toMatchObject({ count: 3, flaggedCount: 2 });
      expect(bucket?.mean).toBeCloseTo(0.62, 3);
      await store.close();
    });

    it('takes the beginning of a span in and leaves its end out', async () => {
      const { store } = await withFacts(
        [0, 1, 2].map((n) => reading('temp-south', NOON_MS + n * MINUTE_MS, { rawValue: n })),
      );
      const span = { fromMs: NOON_MS, toMs: NOON_MS + 2 * MINUTE_MS };
      expect((await store.readings('temp-south', span, 9)).map(({ rawValue }) => rawValue)).toEqual([0, 1]);
      expect((await store.readingBuckets('temp-south', span, 1))[0]?.count).toBe(2);
      await store.close();
    });

    it('buckets readings with min, mean and max of the converted value', async () => {
      const { store } = await withFacts(
        [0.5, 0.4, 0.3, 0.2].map((water, n) => moisture('moist-t1', NOON_MS + n * 30 * MINUTE_MS, water)),
      );
      const buckets = await store.readingBuckets(
        'moist-t1',
        { fromMs: NOON_MS, toMs: NOON_MS + 2 * HOUR_MS },
        2,
      );
      expect(buckets.map(({ atMs }) => atMs)).toEqual([NOON_MS, NOON_MS + HOUR_MS]);
      expect(buckets.map(({ count, flaggedCount }) => [count, flaggedCount])).toEqual([
        [2, 0],
        [2, 0],
      ]);
      expect(buckets[0]?.min).toBeCloseTo(0.4, 6);
      expect(buckets[0]?.mean).toBeCloseTo(0.45, 6);
      expect(buckets[0]?.max).toBeCloseTo(0.5, 6);
      expect(buckets[1]?.mean).toBeCloseTo(0.25, 6);
      await store.close();
    });

    it('lets flagged readings be counted but not shape a bucket that has believed ones', async () => {
      const { store } = await withFacts([
        moisture('moist-t1', NOON_MS, 0.5),
        moisture('moist-t1', NOON_MS + MINUTE_MS, 0.99, { flag: 4, flagReasons: ['out-of-range'] }),
        reading('moist-t1', NOON_MS + 2 * MINUTE_MS, {
          rawUnit: 'V',
          rawValue: undefined,
          flag: 9,
          flagReasons: ['missing'],
        }),
        moisture('moist-t1', NOON_MS + HOUR_MS, 0.9, { flag: 4, flagReasons: ['out-of-range'] }),
        reading('moist-t1', NOON_MS + 2 * HOUR_MS, {
          rawUnit: 'V',
          rawValue: undefined,
          flag: 9,
          flagReasons: ['missing'],
        }),
      ]);
      const span = { fromMs: NOON_MS, toMs: NOON_MS + 3 * HOUR_MS };
      const buckets = await store.readingBuckets('moist-t1', span, 3);
      expect(buckets).toHaveLength(2);
      expect(buckets[0]).toMatchObject({ count: 3, flaggedCount: 2 });
      expect(buckets[0]?.max).toBeCloseTo(0.5, 6);
      expect(buckets[1]).toMatchObject({ count: 1, flaggedCount: 1 });
      expect(buckets[1]?.max).toBeCloseTo(0.9, 6);
      await store.close();
    });

    it('knows its probes with their first and last reading', async () => {
      const { store } = await withFacts([
        ...[0, 500, 100].map((n) => reading('temp-south', NOON_MS + n * MINUTE_MS)),
        moisture('moist-t1', NOON_MS + HOUR_MS, 0.4),
      ]);
      expect(await store.probes()).toEqual([
        { probeId: 'moist-t1', rawUnit: 'V', firstAtMs: NOON_MS + HOUR_MS, lastAtMs: NOON_MS + HOUR_MS },
        { probeId: 'temp-south', rawUnit: 'Cel', firstAtMs: NOON_MS, lastAtMs: NOON_MS + 500 * MINUTE_MS },
      ]);
      await store.close();
    });
  });
}
