import { afterEach, describe, expect, it } from 'vitest';
import type { Fact } from '../../src/monitor/ports/facts.js';
import { spokenFact } from '../../src/monitor/ports/spoken-fact.js';
import { english } from '../helpers/in-words.js';
import { closeAll, freshFolder, HOUR_MS, open, openOn, START_MS } from './small-house.js';

afterEach(closeAll);

const DAY_MS = 24 * HOUR_MS;

function texts(facts: readonly Fact[]): string[] {
  return facts
    .map((fact) => spokenFact(fact, english))
    .flatMap((fact) =>
      fact.kind === 'note' && fact.by === 'monitor'
        ? [fact.text]
        : fact.kind === 'call'
          ? [fact.call.sentence ?? '']
          : [],
    );
}

const readingTimesMs = (facts: readonly Fact[], probe: string): number[] =>
  facts.flatMap((fact) =>
    fact.kind === 'reading' && fact.reading.probeId === probe ? [fact.reading.observedAtMs] : [],
  );

const ofKind = <K extends Fact['kind']>(facts: readonly Fact[], kind: K): Extract<Fact, { kind: K }>[] =>
  facts.filter((fact): fact is Extract<Fact, { kind: K }> => fact.kind === kind);

const medianHours = (facts: readonly Fact[], tray: string): number[] =>
  ofKind(facts, 'forecast').flatMap(({ forecast }) =>
    forecast.tray === tray ? [forecast.hoursToRefill.p50 ?? Number.NaN] : [],
  );

describe('the wall clock is set while the house runs', () => {
  it('back by an hour: readings, forecasts and decisions go on as before, and it is said', async () => {
    const { house, clock, publisher, runTo } = await openOn(freshFolder(), START_MS);
    await runTo(START_MS + 5 * HOUR_MS);
    await house.feed.command({ do: 'watered', tray: 't1', ref: 'poured' });
    await runTo(START_MS + 8 * HOUR_MS);
    const before = medianHours(publisher.told, 't1').at(-1) ?? Number.NaN;
    publisher.told.length = 0;
    clock.set(-HOUR_MS);
    await runTo(START_MS + 9 * HOUR_MS);
    expect(readingTimesMs(publisher.told, 'moist')).toHaveLength(6);
    expect(house.feed.present().nowMs).toBe(START_MS + 8 * HOUR_MS);
    // Water is as old as it was: the tray has about as many hours, though it is the same hour of the day again.
    const after = medianHours(publisher.told, 't1').at(-1) ?? Number.NaN;
    expect(Math.abs(before - after)).toBeLessThan(3);
    expect(texts(publisher.told).join('\n')).toMatch(/clock.* back by 1 h/);
    // What is decided is decided now: a tray that was seen dry is called about within the hour, not an hour late.
    await house.feed.command({ do: 'looked', tray: 't2', level: 1 });
    await runTo(START_MS + 9.5 * HOUR_MS);
    expect(ofKind(publisher.told, 'call').map(({ call }) => call.trays)).toContainEqual(['t2']);
    const undone = await house.feed.command({ do: 'undo', undo: 'poured' });
    expect(undone.ok).toBe(true);
  });

  it('forward by a day: what fell due on the day that never was is not decided, and it is said', async () => {
    const { clock, publisher, runTo } = await openOn(freshFolder(), START_MS);
    await runTo(START_MS + 8 * HOUR_MS);
    publisher.told.length = 0;
    clock.set(DAY_MS);
    await runTo(START_MS + 8.5 * HOUR_MS);
    expect(ofKind(publisher.told, 'round-notice')).toEqual([]);
    const nowMs = START_MS + DAY_MS + 8 * HOUR_MS;
    for (const { forecast } of ofKind(publisher.told, 'forecast'))
      expect(Date.parse(forecast.at)).toBeGreaterThanOrEqual(nowMs);
    for (const { transition } of ofKind(publisher.told, 'alarm'))
      expect(Date.parse(transition.at)).toBeGreaterThanOrEqual(nowMs);
    expect(texts(publisher.told).join('\n')).toMatch(/clock.* forward by 1 day/);
    expect(readingTimesMs(publisher.told, 'temp')).toHaveLength(3);
  });

  it('back to a wrong year and forward again: nothing has aged', async () => {
    const { house, clock, publisher, runTo } = await openOn(freshFolder(), START_MS);
    await runTo(START_MS + 4 * HOUR_MS);
    await house.feed.command({ do: 'watered', tray: 't1' });
    await runTo(START_MS + 6 * HOUR_MS);
    const before = medianHours(publisher.told, 't1').at(-1) ?? Number.NaN;
    clock.set(-365 * DAY_MS);
    await runTo(START_MS + 7 * HOUR_MS);
    clock.set(365 * DAY_MS);
    publisher.told.length = 0;
    await runTo(START_MS + 8 * HOUR_MS);
    const after = medianHours(publisher.told, 't1').at(-1) ?? Number.NaN;
    expect(before - after).toBeGreaterThan(0);
    expect(before - after).toBeLessThan(5);
  });

  it('back while the house was off: it goes on from the state it had, at the time that is', async () => {
    const folder = freshFolder();
    const first = await openOn(folder, START_MS + 30 * DAY_MS);
    await first.runTo(START_MS + 30 * DAY_MS + 3 * HOUR_MS);
    await first.house.feed.command({ do: 'watered', tray: 't1' });
    await first.house.feed.command({ do: 'end', tray: 't2' });
    await open.splice(0)[0]?.close();
    const second = await openOn(folder, START_MS);
    await second.runTo(START_MS + 2 * HOUR_MS);
    expect(second.house.desk.trays().map(({ id }) => id)).toEqual(['t1']);
    expect(readingTimesMs(second.publisher.told, 'moist')).toHaveLength(13);
    expect(medianHours(second.publisher.told, 't1').length).toBeGreaterThanOrEqual(2);
    expect(texts(second.publisher.told).join('\n')).toMatch(/clock/);
  });
});
