import { cpSync } from 'node:fs';
import { afterEach, describe, expect, it } from 'vitest';
import type { House } from '../../src/cli/running/house-parts/house.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import { closeAll, freshFolder, HOUR_MS, open, openOn, START_MS } from './small-house.js';

afterEach(closeAll);

const trayIds = (house: House): string[] => house.desk.trays().map(({ id }) => id);

describe('the house', () => {
  it('answers a command that came over MQTT, keeps what it did, and forecasts the new tray', async () => {
    const folder = freshFolder();
    const { house, publisher, runTo } = await openOn(folder, START_MS);
    await runTo(START_MS + HOUR_MS);
    publisher.send({ do: 'new-tray', tray: 't3', bench: 'south', blockSideMm: 38, blockCount: 72 }, 'r1');
    await expect
      .poll(() => publisher.told.find((fact) => fact.kind === 'answer' && fact.answer.ref === 'r1'))
      .toMatchObject({ answer: { ok: true } });
    expect(trayIds(house)).toEqual(['t1', 't2', 't3']);
    await runTo(START_MS + 2 * HOUR_MS);
    const forecasts = publisher.told.flatMap((fact) =>
      fact.kind === 'forecast' ? [fact.forecast.tray] : [],
    );
    expect(forecasts).toContain('t3');
  });

  it('comes back after a restart with the trays, the answers and the learning it had', async () => {
    const folder = freshFolder();
    const first = await openOn(folder, START_MS);
    await first.runTo(START_MS + 5 * HOUR_MS);
    await first.house.feed.command({ do: 'watered', tray: 't1' });
    await first.house.feed.command({ do: 'end', tray: 't2' });
    await first.runTo(START_MS + 8 * HOUR_MS);
    const believed = first.house.pipeline.view().forecasts.get('t1');
    await open.splice(0)[0]?.close();
    const second = await openOn(folder, first.clock.nowMs());
    expect(trayIds(second.house)).toEqual(['t1']);
    expect(second.house.model.explain('t1').lines).toEqual(first.house.model.explain('t1').lines);
    expect(second.house.pipeline.view().forecasts.get('t1')?.waterContentM3PerM3).toBeCloseTo(
      believed?.waterContentM3PerM3 ?? Number.NaN,
      6,
    );
  });

  it('after a power cut nothing that was answered is lost, and no tray comes twice', async () => {
    const folder = freshFolder();
    const { house, clock, runTo } = await openOn(folder, START_MS);
    await runTo(START_MS + 3 * HOUR_MS);
    await house.feed.command({ do: 'watered', tray: 't1', ref: 'poured' });
    await house.feed.command({ do: 'move', tray: 't2', bench: 'south' });
    await house.feed.command({
      do: 'new-tray',
      tray: 't4',
      bench: 'south',
      blockSideMm: 25,
      blockCount: 160,
    });
    // The disk as the power cut finds it: files copied while the monitor still holds them open.
    const found = freshFolder();
    cpSync(folder, found, { recursive: true, filter: (path) => !path.endsWith('writer.lock') });
    const after = await openOn(found, clock.nowMs() + 60_000);
    expect(trayIds(after.house)).toEqual(['t1', 't2', 't4']);
    const undone = await after.house.feed.command({ do: 'undo', undo: 'poured' });
    expect(undone.ok).toBe(true);
  });

  it('a power cut between keeping a call and telling it: it is told after the start, under the same turn, and made once', async () => {
    const calls = (facts: readonly Fact[]) => facts.filter(({ kind }) => kind === 'call');
    const folder = freshFolder();
    const found = freshFolder();
    const { house, clock, publisher, runTo } = await openOn(folder, START_MS);
    await runTo(START_MS + HOUR_MS);
    let cutAtMs = 0;
    publisher.beforeTaking = (facts) => {
      if (calls(facts).length === 0 || cutAtMs > 0) return;
      cutAtMs = clock.nowMs();
      cpSync(folder, found, { recursive: true, filter: (path) => !path.endsWith('writer.lock') });
    };
    // ready for water, and nobody gives any: dry, and called
    await house.feed.command({ do: 'looked', tray: 't2', level: 1 });
    await runTo(START_MS + 12 * HOUR_MS);
    const [first] = calls(publisher.told);
    expect(cutAtMs).toBeGreaterThan(0);
    const after = await openOn(found, cutAtMs + 60_000);
    expect(calls(after.publisher.told)).toEqual([JSON.parse(JSON.stringify(first))]);
    const cutTurn = after.publisher.turns[0];
    expect(publisher.turns).toContain(cutTurn);
    await after.runTo(cutAtMs + HOUR_MS);
    const about = (fact: Fact | undefined) =>
      fact?.kind === 'call' ? `${fact.call.kind} ${fact.call.trays}` : '';
    expect(calls(after.publisher.told).filter((fact) => about(fact) === about(first))).toHaveLength(1);
  });

  it('is told to stop in the middle of a reading, and ends without a fault', async () => {
    const { house, clock } = await openOn(freshFolder(), START_MS, (signal) => {
      return new Promise((_, reject) => {
        signal.addEventListener('abort', () =>
          reject(Object.assign(new Error('aborted'), { name: 'AbortError' })),
        );
      });
    });
    expect(clock.nowMs()).toBe(START_MS);
    await expect(house.monitor.close()).resolves.toBeUndefined();
  });
});
