import { afterEach, describe, expect, it } from 'vitest';
import { closeAll, freshFolder, HOUR_MS, open, openOn, START_MS } from './small-house.js';

afterEach(closeAll);

const MIN_MS = 60_000;

describe('what is said or read moves every number that is shown', () => {
  it("a tray that was watered is shown and told with its new hours in the answer's own turn", async () => {
    const { house, publisher, runTo } = await openOn(freshFolder(), START_MS);
    await runTo(START_MS + 7 * HOUR_MS + 25 * MIN_MS);
    const shown = () => house.feed.present().forecasts.get('t2');
    const before = shown();
    publisher.told.length = 0;
    await house.feed.command({ do: 'looked', tray: 't2', level: 1 });
    const dry = shown();
    expect(dry?.waterContentM3PerM3).toBeLessThan((before?.waterContentM3PerM3 ?? 0) - 0.05);
    await house.feed.command({ do: 'watered', tray: 't2' });
    expect(shown()?.waterContentM3PerM3).toBeGreaterThan((dry?.waterContentM3PerM3 ?? 1) + 0.05);
    const told = publisher.told.flatMap((fact) =>
      fact.kind === 'forecast' && fact.forecast.tray === 't2' ? [fact.forecast] : [],
    );
    expect(told.at(-1)?.waterContentM3PerM3).toBe(shown()?.waterContentM3PerM3);
    expect(told).toHaveLength(2);
  });

  it('shows a forecast of every tray before the first reading, also after a restart', async () => {
    const folder = freshFolder();
    const first = await openOn(folder, START_MS + 10 * MIN_MS);
    await expect.poll(() => [...first.house.feed.present().forecasts.keys()]).toEqual(['t1', 't2']);
    await first.runTo(START_MS + HOUR_MS);
    await open.splice(0)[0]?.close();
    const second = await openOn(folder, START_MS + 90 * MIN_MS);
    await expect.poll(() => [...second.house.feed.present().forecasts.keys()]).toEqual(['t1', 't2']);
  });

  it('between two full hours water goes on by the readings, and hours with it', async () => {
    const { house, runTo } = await openOn(freshFolder(), START_MS);
    await runTo(START_MS + 8 * HOUR_MS);
    const shown = () => house.feed.present().forecasts.get('t1');
    const atHour = shown();
    await runTo(START_MS + 8 * HOUR_MS + 45 * MIN_MS);
    const later = shown();
    expect(later?.waterContentM3PerM3).toBeLessThan(atHour?.waterContentM3PerM3 ?? 0);
    expect(Date.parse(later?.at ?? '')).toBeGreaterThanOrEqual(START_MS + 8 * HOUR_MS + 40 * MIN_MS);
  });
});
