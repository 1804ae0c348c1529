import { toInstant } from '../../../shared/base/ids.js';
import type { Fact } from '../../../src/monitor/ports/facts.js';
import { openSqliteStore } from '../../../src/store/sqlite/open-sqlite-store.js';
import { FakeClock } from './fake-clock.js';
import { alarm, forecast, HOUR_MS, moisture, NOON_MS, newTray, note } from './sample-facts.js';
import { seededRandom } from './seeded-random.js';

/** Hours that blocks of a side last until the refill point on a middling day, about side to the power of 1.2. */
const lastsH = (sideMm: number) => 9 * (sideMm / 19) ** 1.2;

function dryDownFacts(tray: string, sideMm: number, startMs: number, random: () => number): readonly Fact[] {
  const refillH = lastsH(sideMm) * (0.75 + 0.5 * random());
  const wateredH = refillH * (0.7 + 0.4 * random());
  const waterAt = (elapsedH: number) => 0.62 - (0.25 * elapsedH) / refillH;
  const hourly = Array.from({ length: Math.floor(wateredH) }, (_, hour) => hour + 1);
  return [
    ...hourly.flatMap((hour) => [
      forecast(tray, startMs + hour * HOUR_MS, waterAt(hour)),
      moisture(`moist-${tray}`, startMs + hour * HOUR_MS, waterAt(hour)),
    ]),
    {
      kind: 'dry-down',
      dryDown: {
        trayId: tray,
        startedAtMs: startMs,
        endedAtMs: startMs + wateredH * HOUR_MS,
        startWaterContentM3PerM3: 0.62,
        endWaterContentM3PerM3: waterAt(wateredH),
        ...(wateredH > refillH ? { refillReachedAtMs: startMs + refillH * HOUR_MS } : {}),
        meanTemperatureC: 19,
        meanVpdKPa: 0.6 + 0.8 * random(),
        hasProbe: true,
      },
    },
    {
      kind: 'watering',
      watering: {
        at: toInstant(startMs + Math.round(wateredH * HOUR_MS)),
        tray,
        source: 'logged',
        ml: 500,
        by: '=Mira',
      },
    },
  ];
}

/** A store with a small season: three block sizes, twelve dry-downs each, alarms and notes. */
export async function writeSeason(folder: string): Promise<void> {
  const random = seededRandom(11);
  const store = openSqliteStore({ folder, clock: new FakeClock(NOON_MS + 3000 * HOUR_MS) });
  for (const [tray, sideMm] of [
    ['t1', 19],
    ['t2', 38],
    ['t3', 51],
  ] as const) {
    await store.keep([newTray(tray, NOON_MS - HOUR_MS, sideMm), alarm(tray, NOON_MS)]);
    for (let n = 0; n < 12; n++)
      await store.keep(dryDownFacts(tray, sideMm, NOON_MS + n * 60 * HOUR_MS, random));
  }
  await store.keep([note(NOON_MS, 'Sown <again>, "thinly",\nin the rain')]);
  await store.close();
}
