import { describe, expect, it } from 'vitest';
import { toInstant } from '../../../shared/base/ids.js';
import type { Fact } from '../../../src/monitor/ports/facts.js';
import { type OpenStore, storeWith } from './opened-store.js';
import { alarm, forecast, HOUR_MS, NOON_MS, newTray, note, reading } from './sample-facts.js';

const everything = { fromMs: NOON_MS - 30 * 24 * HOUR_MS, toMs: NOON_MS + 30 * 24 * HOUR_MS };

/** What every store must do with all other facts, with states and with questions it can not answer. */
export function factsContract(name: string, open: OpenStore): void {
  describe(`${name} keeps facts and states by the store's contract`, () => {
    const withFacts = (facts: readonly Fact[]) => storeWith(open, facts);

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
      const all = await store.forecasts(undefined, everything);
      expect(all.map(({ trayId, atMs, waterContentM3PerM3 }) => [trayId, atMs, waterContentM3PerM3])).toEqual(
        [
          ['t1', NOON_MS, 0.5],
          ['t2', NOON_MS, 0.55],
          ['t1', NOON_MS + HOUR_MS, 0.47],
        ],
      );
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

    it('strikes out an undone note, of the farm or of a tray, and no other', async () => {
      const at = '2026-05-11T09:00:00Z';
      const photo = '0123456789abcdef01234567';
      const farm = { at, text: 'aphids' };
      const tray = { at, tray: 't1', text: 'aphids', photo };
      const { store } = await withFacts([
        { kind: 'note', ...farm, ref: 'n1' },
        { kind: 'note', ...tray, ref: 'n2' },
        { kind: 'note-undone', note: tray },
        { kind: 'note', ...farm, by: 'anna' },
        { kind: 'note-undone', note: farm },
      ]);
      expect(await store.facts(['note'], everything, 9)).toEqual([
        { kind: 'note', ...farm, ref: 'n1', undone: true },
        { kind: 'note', ...tray, ref: 'n2', undone: true },
        { kind: 'note', ...farm, by: 'anna' },
      ]);
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

    it('gives one tray its own part of the journal', async () => {
      const poured = (tray: string, atMs: number): Fact => ({
        kind: 'watering',
        watering: { at: toInstant(atMs), tray, source: 'logged', ml: 100 },
      });
      const { store } = await withFacts([
        poured('t1', NOON_MS),
        poured('t2', NOON_MS),
        poured('t1', NOON_MS + HOUR_MS),
        forecast('t1', NOON_MS, 0.5),
      ]);
      const own = await store.facts(['watering', 'note'], everything, 10, 't1');
      expect(own).toEqual([poured('t1', NOON_MS), poured('t1', NOON_MS + HOUR_MS)]);
      expect(await store.facts(['watering'], everything, 1, 't2')).toEqual([poured('t2', NOON_MS)]);
      expect(await store.facts(['watering'], everything, 10, 't9')).toEqual([]);
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
