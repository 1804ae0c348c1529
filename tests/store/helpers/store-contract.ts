import { describe, expect, it } from 'vitest';
import { toInstant } from '../../../shared/ids.js';
import type { Fact, JudgedReading } from '../../../src/monitor/facts.js';
import type { FactStore, ReviewQueries } from '../../../src/monitor/ports.js';
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
} from './sample-facts.js';

export interface OpenedStore {
  readonly store: FactStore & ReviewQueries;
  /** Makes what was kept visible to queries, when that takes more than `flush`. */
  settle(): Promise<void>;
}

/** Volts and water contents are kept to a millionth; rounding may be off by half of it. */
const HALF_STEP = 0.51e-6;

const everything = { fromMs: NOON_MS - 30 * 24 * HOUR_MS, toMs: NOON_MS + 30 * 24 * HOUR_MS };
const readingsOf = (facts: readonly Fact[]): readonly JudgedReading[] =>
  facts.flatMap((fact) => (fact.kind === 'reading' ? [fact.reading] : []));

/** What every store must do, whatever it keeps its facts in. `open` gives an empty one each time. */
export function storeContract(name: string, open: () => Promise<OpenedStore>): void {
  describe(`${name} keeps the store's contract`, () => {
    async function withFacts(facts: readonly Fact[]) {
      const { store, settle } = await open();
      await store.keep(facts);
      await store.flush();
      await settle();
      return { store, settle };
    }

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

    it('gives forecasts back, short for the fan, and the newest of each tray whole', async () => {
      const { store } = await withFacts([
        forecast('t1', NOON_MS, 0.5),
        forecast('t2', NOON_MS, 0.55),
        forecast('t1', NOON_MS + HOUR_MS, 0.47),
      ]);
      expect(await store.forecasts('t1', everything)).toEqual([
        {
          atMs: NOON_MS,
          trayId: 't1',
          waterContentM3PerM3: 0.5,
          p10H: 6.1,
          p50H: 8,
          p90H: null,
          driestTenthP50H: 5.5,
        },
        {
          atMs: NOON_MS + HOUR_MS,
          trayId: 't1',
          waterContentM3PerM3: 0.47,
          p10H: 6.1,
          p50H: 8,
          p90H: null,
          driestTenthP50H: 5.5,
        },
      ]);
      const latest = await store.latestForecasts();
      expect(latest.map((newest): Fact => ({ kind: 'forecast', forecast: newest }))).toEqual([
        forecast('t1', NOON_MS + HOUR_MS, 0.47),
        forecast('t2', NOON_MS, 0.55),
      ]);
      await store.close();
    });

    it('keeps every kind of fact as it was, newest last', async () => {
      const at = toInstant(NOON_MS);
      const facts: readonly Fact[] = [
        newTray('t1', NOON_MS),
        { kind: 'watering', watering: { at, tray: 't1', source: 'logged', ml: 580, by: 'Mira' } },
        alarm('t1', NOON_MS),
        {
          kind: 'call',
          call: { at, kind: 'refill', bench: 'south', trays: ['t1'], again: false, sentence: 'Water t1.' },
        },
        { kind: 'round-notice', notice: { at, round: toInstant(NOON_MS + HOUR_MS), due: [], canWait: [] } },
        { kind: 'probe-drift', probeId: 'moist-t1', atMs: NOON_MS, driftM3PerM3: 0.03 },
        note(NOON_MS, 'A note with <b>markup</b>, "quotes", a \\ and a line\nbreak; ümläut 🌱'),
        { kind: 'ask', at, trays: ['t2'], sentence: 'Was t2 watered?' },
        { kind: 'answer', answer: { ref: 'r1', at, ok: true, code: 'done', sentence: 'Done.' } },
        { kind: 'status', status: { online: true, at } },
        {
          kind: 'forecast-came-true',
          outcome: {
            kind: 'forecast-came-true',
            trayId: 't1',
            forecastAtMs: NOON_MS - 6 * HOUR_MS,
            outcomeAtMs: NOON_MS,
            leadH: 6,
            forecastWaterContentM3PerM3: { p10: 0.4, p50: 0.45, p90: 0.5 },
            waterContentM3PerM3: 0.44,
          },
        },
      ];
      const { store } = await withFacts(facts);
      const kinds = facts.map(({ kind }) => kind);
      expect(await store.facts(kinds, everything, 100)).toEqual(facts);
      expect(await store.facts(['note', 'ask'], everything, 1)).toEqual([facts[7]]);
      await store.close();
    });

    it('keeps facts of one instant and one kind apart', async () => {
      const facts = ['first', 'second', 'second'].map((text) => note(NOON_MS, text));
      const { store } = await withFacts(facts);
      expect(await store.facts(['note'], everything, 100)).toEqual(facts);
      await store.close();
    });

    it('strikes out an undone event, and the watering it told of, and nothing else', async () => {
      const at = toInstant(NOON_MS);
      const event = { at, tray: 't1', event: 'watered', ml: 500 } as const;
      const watering = { at, tray: 't1', source: 'logged', ml: 500 } as const;
      const other = { ...event, tray: 't2' };
      const { store } = await withFacts([
        { kind: 'tray-event', event },
        { kind: 'watering', watering },
        { kind: 'tray-event', event: other },
        { kind: 'tray-event-undone', event },
      ]);
      expect(await store.facts(['tray-event', 'watering', 'tray-event-undone'], everything, 9)).toEqual([
        { kind: 'tray-event', event, undone: true },
        { kind: 'watering', watering, undone: true },
        { kind: 'tray-event', event: other },
        { kind: 'tray-event-undone', event },
      ]);
      await store.close();
    });

    it('cuts a dry-down out with the tray as it was and its curve', async () => {
      const { store } = await withFacts([
        newTray('t1', NOON_MS - 24 * HOUR_MS),
        {
          kind: 'tray-event',
          event: { at: toInstant(NOON_MS + 5 * HOUR_MS), tray: 't1', event: 'moved', bench: 'north' },
        },
        ...[-1, 1, 2, 3, 4].map((n) => forecast('t1', NOON_MS + n * HOUR_MS, 0.6 - 0.04 * n)),
        {
          kind: 'dry-down',
          dryDown: {
            trayId: 't1',
            startedAtMs: NOON_MS,
            endedAtMs: NOON_MS + 3.5 * HOUR_MS,
            startWaterContentM3PerM3: 0.6,
            endWaterContentM3PerM3: 0.46,
            meanVpdKPa: 0.9,
            hasProbe: false,
          },
        },
      ]);
      const [kept] = await store.dryDowns(everything);
      expect(kept).toMatchObject({
        trayId: 't1',
        benchId: 'south',
        blockSideMm: 19,
        blockCount: 280,
        crop: 'celery',
        ageDays: 3,
        meanVpdKPa: 0.9,
      });
      expect(kept?.samples.map(({ elapsedH }) => elapsedH)).toEqual([0, 1, 2, 3, 3.5]);
      expect(kept?.samples[2]?.waterContentM3PerM3).toBeCloseTo(0.52, 9);
      const { samples, ...summary } = kept ?? { samples: [] };
      expect(samples).toHaveLength(5);
      expect(await store.dryDownSummaries(everything)).toEqual([summary]);
      expect(await store.facts(['dry-down'], everything, 9)).toEqual([{ kind: 'dry-down', dryDown: kept }]);
      expect(await store.dryDownSummaries({ ...everything, toMs: NOON_MS })).toEqual([]);
      await store.close();
    });

    it('keeps state documents by name and replaces them whole', async () => {
      const { store } = await withFacts([]);
      expect(await store.loadState('model')).toBeUndefined();
      await store.saveState('model', { trays: [1, 2], seed: 7 });
      await store.saveState('model', { trays: [3] });
      await store.saveState('desk', null);
      expect(await store.loadState('model')).toEqual({ trays: [3] });
      expect(await store.loadState('desk')).toBeNull();
      await store.close();
    });

    it('keeps states that come with facts', async () => {
      const { store, settle } = await withFacts([]);
      await store.keep([note(NOON_MS, 'one')], { desk: { n: 1 }, turn: { id: 'a' } });
      await store.keep([], { desk: { n: 2 } });
      await store.flush();
      await settle();
      expect(await store.loadState('desk')).toEqual({ n: 2 });
      expect(await store.loadState('turn')).toEqual({ id: 'a' });
      expect(await store.facts(['note'], everything, 9)).toEqual([note(NOON_MS, 'one')]);
      await store.close();
    });

    it('answers questions about what it never heard of with nothing', async () => {
      const { store } = await withFacts([reading('temp-south', NOON_MS)]);
      const hundredYears = {
        fromMs: NOON_MS - 50 * 365 * 24 * HOUR_MS,
        toMs: NOON_MS + 50 * 365 * 24 * HOUR_MS,
      };
      expect(await store.readings('moist-t9', hundredYears, 10)).toEqual([]);
      expect(await store.readingBuckets('moist-t9', hundredYears, 1000)).toEqual([]);
      expect(await store.forecasts('t9', hundredYears)).toEqual([]);
      expect(await store.facts(['note'], hundredYears, 10)).toEqual([]);
      expect(await store.facts([], hundredYears, 10)).toEqual([]);
      expect(await store.readingBuckets('temp-south', hundredYears, 1000)).toHaveLength(1);
      await store.close();
    });

    it('refuses a span whose from is not before its to, and a limit of nothing', async () => {
      const { store } = await withFacts([]);
      const backwards = { fromMs: NOON_MS, toMs: NOON_MS };
      await expect(store.readings('temp-south', backwards, 1)).rejects.toThrow(RangeError);
      await expect(store.readingBuckets('temp-south', backwards, 1)).rejects.toThrow(RangeError);
      await expect(store.forecasts('t1', backwards)).rejects.toThrow(RangeError);
      await expect(store.dryDowns(backwards)).rejects.toThrow(RangeError);
      await expect(store.dryDownSummaries(backwards)).rejects.toThrow(RangeError);
      await expect(store.facts(['note'], backwards, 1)).rejects.toThrow(RangeError);
      await expect(store.readings('temp-south', everything, 0)).rejects.toThrow(RangeError);
      await store.close();
    });

    it('takes a note of 1 MB with markup as it is', async () => {
      const text = '<script>alert("x")</script>\u0000'.repeat(35_000);
      const { store } = await withFacts([note(NOON_MS, text)]);
      expect(await store.facts(['note'], everything, 1)).toEqual([note(NOON_MS, text)]);
      await store.close();
    });

    it('refuses facts after it was closed, with a code', async () => {
      const { store } = await withFacts([]);
      await store.close();
      await expect(store.keep([note(NOON_MS, 'late')])).rejects.toMatchObject({ code: 'closed' });
    });
  });
}
