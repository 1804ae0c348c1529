import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pagePatchSchema, pagePresentSchema } from '../../shared/page/page-present.js';
import { applyPatch } from '../../src/review/page/state/apply-patch.js';
import { roundMeant } from '../../src/review/page/state/round-meant.js';
import { trayStandings } from '../../src/review/page/state/tray-standing.js';
import { FarmPainter, type FarmPicture } from '../../src/review/server/live/farm-picture.js';
import { patchBetween } from '../../src/review/server/live/picture-patch.js';
import { createDemoFarm, type DemoFarm } from './demo-farm.js';

async function painted(): Promise<{ farm: DemoFarm; painter: FarmPainter; picture: FarmPicture }> {
  const farm = await createDemoFarm();
  const painter = new FarmPainter(farm.config, farm.feed);
  await painter.lookBack(farm.store);
  farm.feed.subscribe((fact) => painter.take(fact));
  return { farm, painter, picture: painter.paint() };
}

describe('the picture of the farm', async () => {
  const { farm, painter, picture } = await painted();
  const present = { ...picture, cursor: 'a.0' };

  it('is what its schema says', () => {
    expect(pagePresentSchema.parse(present)).toEqual(present);
  });

  it('knows the last watering and the newest reading from before the page started', () => {
    const t1 = picture.trays.find((tray) => tray.id === 't1');
    expect(t1?.lastWatering?.source).toBe('detected');
    expect(picture.probes.find((probe) => probe.id === 'moist-t1')?.reading?.rawUnit).toBe('V');
  });

  it('orders trays by urgency: called, then due as the notice says, then by the hours left', () => {
    const standings = trayStandings(present);
    expect(standings[0]?.tray.id).toBe('t2');
    expect(standings[0]?.standing).toBe('called');
    const due = standings.filter((one) => one.standing === 'due').map((one) => one.tray.id);
    expect(due).toEqual(picture.notice?.due.map((one) => one.tray).filter((id) => id !== 't2'));
    const waiting = standings.filter((one) => one.standing === 'waits');
    const hours = waiting.map((one) => one.tray.forecast?.hoursToRefillDriestTenth.p50 ?? 999);
    expect(hours).toEqual([...hours].sort((a, b) => a - b));
  });

  it('a tray watered since the notice is no longer due, and says so', async () => {
    await farm.feed.command({ do: 'watered', tray: 't3', ref: 'test-1' });
    const after = { ...painter.paint(), cursor: 'a.1' };
    const t3 = trayStandings(after).find((one) => one.tray.id === 't3');
    expect(t3).toMatchObject({ standing: 'waits', done: true });
  });

  it('speaks of the round of the notice until it is over or its trays are watered, then of the next one and of what is left', () => {
    const roundMs = Date.parse(present.notice?.round ?? '');
    const nextMs = roundMs + 13 * 3_600_000;
    const rounds = { ...present, nextRounds: [roundMs, nextMs].map((ms) => new Date(ms).toISOString()) };
    const watered = trayStandings(rounds).map((one) => ({ ...one, standing: 'waits' as const, done: true }));
    const meant = (standings: typeof watered | ReturnType<typeof trayStandings>, nowMs: number) =>
      roundMeant(rounds, standings, nowMs);
    const ofNotice = { roundMs, isOfNotice: true, isLeftOver: false, noticeRoundMs: roundMs };
    const ofNext = { roundMs: nextMs, isOfNotice: false, noticeRoundMs: roundMs };
    expect(meant(trayStandings(rounds), roundMs - 1)).toEqual(ofNotice);
    expect(meant(watered, roundMs - 1)).toEqual(ofNotice);
    expect(meant(trayStandings(rounds), roundMs + 1)).toEqual(ofNotice);
    expect(meant(watered, roundMs + 1)).toEqual({ ...ofNext, isLeftOver: false });
    expect(meant(trayStandings(rounds), roundMs + 128 * 60_000)).toEqual({ ...ofNext, isLeftOver: true });
  });

  it('patchBetween() is undefined when only the clock moved', () => {
    const now = painter.paint();
    expect(patchBetween(now, { ...now, at: '2030-01-01T00:00:00Z' })).toBeUndefined();
  });

  it('applyPatch() after patchBetween() gives the later picture, whatever changed', () => {
    const subset = fc.subarray(picture.trays.map((_, index) => index));
    const picked = fc.record({
      trays: subset,
      calls: fc.boolean(),
      hasNotice: fc.boolean(),
      away: fc.option(fc.constantFrom('2026-05-16T05:00:00Z', '2026-05-17T05:00:00Z'), { nil: undefined }),
      testWays: fc.subarray(['mqtt', 'sms']),
      water: fc.double({ min: 0, max: 1, noNaN: true }),
    });
    const build = (choice: typeof picked extends fc.Arbitrary<infer T> ? T : never): FarmPicture => {
      const { notice, awayUntil: _away, ...rest } = picture;
      return {
        ...rest,
        ...(choice.hasNotice && notice !== undefined ? { notice } : {}),
        ...(choice.away === undefined ? {} : { awayUntil: choice.away }),
        ...(choice.testWays.length === 0
          ? {}
          : { testCall: { at: '2026-05-15T15:00:00Z', ways: choice.testWays } }),
        calls: choice.calls ? picture.calls : [],
        trays: picture.trays
          .filter((_, index) => choice.trays.includes(index))
          .map((tray, index) => (index === 0 ? { ...tray, moistureIndex: choice.water } : tray)),
      };
    };
    fc.assert(
      fc.property(picked, picked, (one, other) => {
        const before = build(one);
        const after = { ...build(other), at: '2026-05-15T16:00:00Z' };
        const patch = patchBetween(before, after);
        const expected = [...after.trays].sort((a, b) => (a.id < b.id ? -1 : 1));
        if (patch === undefined) {
          expect(before.trays).toEqual(after.trays);
          return;
        }
        pagePatchSchema.parse(patch);
        const applied = applyPatch({ ...before, cursor: 'x' }, patch, 'y');
        applied.trays.sort((a, b) => (a.id < b.id ? -1 : 1));
        expect(applied).toEqual({ ...after, trays: expected, cursor: 'y' });
      }),
    );
  });
});
