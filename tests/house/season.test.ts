import { expect, it } from 'vitest';
import { playSeason } from '../bench/season-parts/play-season.js';

const DAYS = 2;
/** Something left behind every hour would be two dozen more each night. */
const FEWER_THAN_HOURLY = 12;
const PAGE_BYTES = 4096;

it('leaves no timer, emitter, abort signal or handle behind from night to night, and every reading is heard', async () => {
  const season = await playSeason({ days: DAYS, trayCount: 2, cadenceS: 3600, seed: 5, everyNights: 1 });
  expect(season.nights.length).toBe(DAYS);
  expect(season.warnings).toEqual([]);
  expect(season.readingCount).toBeGreaterThan(0);
  expect(season.unheardCount).toBe(0);
  const [first, ...later] = season.nights;
  for (const night of later)
    for (const what of ['timers', 'handles', 'emitters', 'signals'] as const)
      expect(night[what] - (first?.[what] ?? 0), what).toBeLessThan(FEWER_THAN_HOURLY);
  // the broker's and the outbox's files hold what stands, not what was: their logs are begun anew at a few MB
  for (const night of season.nights) expect(night.outboxMb * 2 ** 20).toBeLessThan(2_000 * PAGE_BYTES);
}, 240_000);
