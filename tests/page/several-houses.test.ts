import { afterAll, beforeAll, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import { farmConfigSchema } from '../../shared/config/farm.js';
import { journalAnswerSchema } from '../../shared/page/page-journal.js';
import { type PagePresent, pagePresentSchema } from '../../shared/page/page-present.js';
import {
  curvesAnswerSchema,
  probesAnswerSchema,
  trayCurveAnswerSchema,
  waterAnswerSchema,
} from '../../shared/page/page-review.js';
import { openReview } from '../../src/cli/running/house-parts/open-review.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import { type RunningPage, startPage } from '../../src/review/start-page.js';
import { StoreFeed } from '../../src/review/store-feed/store-feed.js';
import { openInfluxStore } from '../../src/store/influx/open-influx-store.js';
import { describeIf } from '../helpers/needs.js';
import { FakeClock } from '../store/helpers/fake-clock.js';
import { Influxd } from '../store/helpers/influxd.js';
import { forecast, HOUR_MS, MINUTE_MS, moisture, NOON_MS, reading } from '../store/helpers/sample-facts.js';
import { makeTempFolder } from '../store/helpers/temp-folder.js';

const NOW_MS = NOON_MS + 6 * HOUR_MS;
const ROUND_MS = NOW_MS + HOUR_MS;
const HOUSES = Array.from({ length: 10 }, (_, n) => `house-${n}`);
const HOURS = [0, 1, 2, 3, 4, 5] as const;

/** What one house's monitor keeps in an afternoon: its own bench, tray and probes, under the one farm's name. */
function factsOf(house: string): readonly Fact[] {
  const tray = `${house}-t1`;
  const at = (hour: number) => NOON_MS + hour * HOUR_MS;
  const trayNew = {
    at: toInstant(at(-1)),
    tray,
    event: 'new',
    bench: house,
    blockSideMm: 38,
    blockCount: 50,
  };
  return [
    { kind: 'tray-event', event: { ...trayNew, event: 'new', crop: 'leek' } },
    { kind: 'watering', watering: { at: toInstant(at(0)), tray, source: 'logged', ml: 700 } },
    ...HOURS.flatMap((hour): Fact[] => [
      reading(`${house}-temp`, at(hour) + 50 * MINUTE_MS, { rawValue: 20 + hour }),
      moisture(`${house}-moist`, at(hour) + 50 * MINUTE_MS, 0.6 - 0.03 * hour),
      forecast(tray, at(hour) + 5 * MINUTE_MS, 0.6 - 0.03 * hour),
    ]),
    {
      kind: 'dry-down',
      dryDown: {
        trayId: tray,
        startedAtMs: at(0),
        endedAtMs: at(5),
        startWaterContentM3PerM3: 0.6,
        endWaterContentM3PerM3: 0.45,
        hasProbe: true,
      },
    },
    {
      kind: 'round-notice',
      notice: {
        at: toInstant(NOW_MS - MINUTE_MS),
        round: toInstant(ROUND_MS),
        due: [{ tray, doseMl: 500 }],
        canWait: [],
        sentence: `Water ${tray}.`,
      },
    },
    { kind: 'alarm', transition: { at: toInstant(at(5)), kind: 'refill', state: 'unacknowledged', tray } },
  ];
}

describeIf('influxd', 'ten houses that write to one InfluxDB, reviewed with no board attached', () => {
  let influxd: Influxd;
  let page: RunningPage;
  let present: PagePresent;
  const endings: (() => unknown)[] = [];

  beforeAll(async () => {
    influxd = await Influxd.start();
    const clock = new FakeClock(NOW_MS);
    const influx = { url: influxd.url, database: 'alder' };
    await Promise.all(
      HOUSES.map(async (monitor) => {
        const { store: own } = farmConfigSchema.parse({
          farm: 'alder-row',
          benches: [{ id: monitor }],
          store: { influx: { ...influx, monitor } },
        });
        if (own.influx === undefined) throw new TypeError('the configuration names an InfluxDB');
        const store = openInfluxStore({
          folder: makeTempFolder(),
          farm: 'alder-row',
          influx: own.influx,
          clock,
          random: () => 0.5,
        });
        for (const fact of factsOf(monitor)) await store.keep([fact]);
        await store.flush();
        expect(await store.drain()).toBe(true);
        await store.close();
      }),
    );
    // The machine that reviews knows one bench and no tray and no probe.
    const config = farmConfigSchema.parse({
      farm: 'alder-row',
      benches: [{ id: 'house-0' }],
      store: { influx },
    });
    const queries = openReview(config);
    const complain = (cause: unknown) => {
      throw cause;
    };
    const nowMs = () => NOW_MS;
    const feed = await StoreFeed.open({ config, queries, nowMs, lookEveryMs: 10 * HOUR_MS, complain });
    page = await startPage({ config, queries, live: feed, listenHost: '127.0.0.1', listenPort: 0 });
    endings.push(
      () => page.close(),
      () => feed.close(),
      () => queries.close(),
    );
    present = pagePresentSchema.parse(await asked('api/present'));
  }, 60_000);
  afterAll(async () => {
    for (const end of endings) await end();
    await influxd.stop();
  });

  async function asked(path: string): Promise<unknown> {
    const answer = await fetch(new URL(path, page.address));
    expect([path, answer.status]).toEqual([path, 200]);
    return answer.json();
  }

  it('shows the trays, benches and probes of all houses', () => {
    expect(present.trays.map(({ id }) => id).sort()).toEqual(HOUSES.map((house) => `${house}-t1`));
    expect(present.benches.map(({ id }) => id).sort()).toEqual(HOUSES);
    expect(present.probes.map(({ id }) => id).sort()).toEqual(
      HOUSES.flatMap((house) => [`${house}-moist`, `${house}-temp`]),
    );
    expect(new Set(present.probes.map(({ kind }) => kind))).toEqual(
      new Set(['air-temperature', 'block-moisture']),
    );
    expect(present.probes.every(({ reading: newest }) => newest !== undefined)).toBe(true);
  });

  it('joins what the houses call for, and the levels their models hold', () => {
    expect(present.calls).toHaveLength(10);
    expect(present.notice?.due.map(({ tray }) => tray).sort()).toEqual(HOUSES.map((house) => `${house}-t1`));
    expect(present.notice?.sentence).toContain('Water house-7-t1.');
    // 0.45 between the sample forecasts' refill point 0.3124 and container capacity 0.6123
    for (const { moistureIndex } of present.trays)
      expect(moistureIndex).toBeCloseTo((0.45 - 0.3124) / (0.6123 - 0.3124), 6);
  });

  it('answers every view', async () => {
    const span = `from=${toInstant(NOON_MS - 24 * HOUR_MS)}&to=${toInstant(NOW_MS)}`;
    const curves = curvesAnswerSchema.parse(await asked(`api/curves?${span}`));
    expect(curves.sizes.map(({ dryDownCount, trayCount }) => [dryDownCount, trayCount])).toEqual([[10, 10]]);
    expect(curves.sizes[0]?.band.length).toBeGreaterThan(3);
    const tray = trayCurveAnswerSchema.parse(await asked(`api/tray/house-4-t1/curve?${span}`));
    expect(tray).toMatchObject({ tray: 'house-4-t1', refillPointM3PerM3: 0.3124 });
    expect(tray.forecasts.atS).toHaveLength(HOURS.length);
    const water = waterAnswerSchema.parse(await asked(`api/water?${span}`));
    expect(water.uses.map(({ ml }) => ml)).toEqual(HOUSES.map(() => 700));
    const probes = probesAnswerSchema.parse(await asked(`api/probes?${span}`));
    expect(probes.probes.map(({ readingCount }) => readingCount)).toEqual(
      Array.from({ length: 20 }, () => HOURS.length),
    );
    const journal = journalAnswerSchema.parse(await asked(`api/journal?${span}`));
    expect(journal.entries.filter(({ kind }) => kind === 'round-notice')).toHaveLength(10);
  });
});
