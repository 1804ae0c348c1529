import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import { roundNoticeSchema } from '../../shared/facts/round-notice.js';
import type { WateringDesk } from '../../src/watering/desk/watering-desk.js';
import { deskOf, minis, tell } from './desk-of.js';
import { forecast, HOUR, MIDNIGHT, MIN, only, view } from './helpers.js';

const evening = MIDNIGHT + 18 * HOUR;
const beforeEvening = evening - 75 * MIN;

function noticeOf(desk: WateringDesk, now: ReturnType<typeof view>, roundMs = evening) {
  const notice = only(desk.roundNotice(roundMs, now), 'round-notice')[0]?.notice;
  if (notice === undefined) throw new Error('every round has a notice');
  return roundNoticeSchema.parse(notice);
}

describe('the round notice', () => {
  it('reads on a lock screen', () => {
    const desk = deskOf(minis('t1', 't2', 't3'));
    const forecasts = ['t1', 't2', 't3'].map((id) =>
      forecast(id, beforeEvening, 12.4, { waterContent: 0.334 }),
    );
    expect(noticeOf(desk, view(beforeEvening, forecasts)).sentence).toBe(
      'Bench south, 18:00 round: water 3 trays of minis, about 560 mL each. 2 pours of 280 mL, 20 min to soak after each, then tip out the rest. They would be dry at about 02:40. Trays: t1, t2 and t3.',
    );
  });

  it('is sent when nothing is due, and says what comes next', () => {
    const desk = deskOf(minis('t1', 't2'));
    const notice = noticeOf(
      desk,
      view(beforeEvening, [
        forecast('t1', beforeEvening, 30, { spread: 0.1 }),
        forecast('t2', beforeEvening, 47, { spread: 0.1 }),
      ]),
    );
    expect(notice.due).toEqual([]);
    expect(notice.canWait.map(({ tray, untilRound }) => [tray, untilRound])).toEqual([
      ['t1', toInstant(MIDNIGHT + 31 * HOUR)],
      ['t2', toInstant(MIDNIGHT + 42 * HOUR)],
    ]);
    expect(notice.sentence).toBe('18:00 round: nothing to water. Next: 1 tray at 07:00.');
  });

  it('lets nothing wait beyond what a forecast can see, however seldom the rounds are', () => {
    const weekly = {
      after: (atMs: number, count: number) =>
        Array.from({ length: 60 }, (_, week) => evening + week * 7 * 24 * HOUR)
          .filter((round) => round > atMs)
          .slice(0, count),
      lastBefore: () => undefined,
    };
    const of = (medianH: number) => {
      const now = { ...view(beforeEvening, [forecast('t1', beforeEvening, medianH)]), rounds: weekly };
      const { due, canWait } = noticeOf(deskOf(minis('t1')), now);
      return [due.length, canWait.map(({ untilRound }) => untilRound)];
    };
    expect(of(20)).toEqual([1, []]);
    expect(of(500)).toEqual([0, [toInstant(evening)]]);
  });

  it('tells hours to the hundredth', () => {
    const notice = noticeOf(
      deskOf(minis('t1')),
      view(beforeEvening, [forecast('t1', beforeEvening, 12.3456)]),
    );
    for (const hours of Object.values(notice.due[0]?.hoursToRefill ?? {}))
      expect(hours).toBe(Number(hours?.toFixed(2)));
  });

  it('covers the night by the evening round', () => {
    const desk = deskOf(minis('t1'));
    expect(noticeOf(desk, view(beforeEvening, [forecast('t1', beforeEvening, 15)])).due).toHaveLength(1);
  });

  it('lists the most urgent first', () => {
    const desk = deskOf(minis('t1', 't2', 't3'));
    const forecasts = [
      forecast('t1', beforeEvening, 12),
      forecast('t2', beforeEvening, 3),
      forecast('t3', beforeEvening, 8),
    ];
    expect(noticeOf(desk, view(beforeEvening, forecasts)).due.map(({ tray }) => tray)).toEqual([
      't2',
      't3',
      't1',
    ]);
  });

  it('tells doses in fluid ounces and sizes in inches on a farm that uses them', () => {
    const desk = deskOf([{ id: 't1', blockSideMm: 38 }], {
      units: { volume: 'fl oz', length: 'in', temperature: 'F' },
    });
    const { sentence } = noticeOf(
      desk,
      view(beforeEvening, [forecast('t1', beforeEvening, 12, { waterContent: 0.4 })]),
    );
    expect(sentence).toContain('tray t1 (celery) of 1 1/2 in blocks, about 30 fl oz');
  });

  it('speaks the farm`s time zone', () => {
    const desk = deskOf(minis('t1'), { timeZone: 'Europe/Berlin' });
    const { sentence } = noticeOf(desk, view(beforeEvening, [forecast('t1', beforeEvening, 12)]));
    expect(sentence).toContain('Bench south, 20:00 round');
  });

  it('looks to the return of a grower who is away, and has a notice for it', () => {
    const desk = deskOf(minis('t1'));
    const at = MIDNIGHT + 9 * HOUR;
    const lasting = (nowMs: number): ReturnType<typeof view> =>
      view(nowMs, [forecast('t1', nowMs, (MIDNIGHT + 38 * HOUR - nowMs) / HOUR, { spread: 0.1 })]);
    const { answer } = tell(desk, { do: 'away', until: toInstant(MIDNIGHT + 45 * HOUR) }, lasting(at));
    expect(answer.sentence).toBe('Away until tomorrow 21:00. Water before you go, these may not last: t1.');
    const notice = noticeOf(desk, lasting(beforeEvening));
    expect(notice.awayUntil).toBe(toInstant(MIDNIGHT + 45 * HOUR));
    expect(notice.due.map(({ tray }) => tray)).toEqual(['t1']);
    const returning = MIDNIGHT + 45 * HOUR - 75 * MIN;
    const atReturn = only(desk.decide(view(returning, [forecast('t1', returning, 30)])), 'round-notice');
    expect(atReturn[0]?.notice.round).toBe(toInstant(MIDNIGHT + 45 * HOUR));
    expect(
      only(desk.decide(view(returning + 10 * MIN, [forecast('t1', returning, 30)])), 'round-notice'),
    ).toEqual([]);
  });

  it('says which tray two pours do not fill, and takes "watered" for that as likely as for a filling', () => {
    const desk = deskOf([{ id: 't1', blockSideMm: 51 }]);
    const dry = [forecast('t1', beforeEvening, 3, { waterContent: 0.36 })];
    const { due, sentence } = noticeOf(desk, view(beforeEvening, dry));
    const [line] = due;
    expect(line?.pourPlan).toMatchObject({ pours: 2, pourMl: 450 });
    expect(line?.doseMl).toBe(900 + (line?.pourPlan?.shortMl ?? 0));
    expect(sentence).toContain('about 900 mL. 2 pours of 450 mL');
    expect(sentence).toContain('It will not be full after that.');
    const { effects } = tell(desk, { do: 'watered', tray: 't1' }, view(evening + HOUR, dry));
    const [poured] = only(effects, 'watering');
    expect(poured?.watering).toMatchObject({ source: 'logged', askedMl: 900 });
    expect(poured?.watering.ml).toBeUndefined();
  });

  it('learns what a tray`s blocks really take up', () => {
    const desk = deskOf(minis('t1'));
    const dose = (roundMs: number): number => {
      const nowMs = roundMs - 75 * MIN;
      return (
        noticeOf(desk, view(nowMs, [forecast('t1', nowMs, 10, { waterContent: 0.4 })]), roundMs).due[0]
          ?.doseMl ?? 0
      );
    };
    const first = dose(evening);
    for (let day = 0; day < 5; day++) {
      const roundMs = evening + day * 24 * HOUR;
      const asked = dose(roundMs);
      desk.noticed(
        {
          kind: 'watering-detected',
          trayId: 't1',
          atMs: roundMs,
          noticedAtMs: roundMs + HOUR,
          takenUpMl: first * 0.75,
          takenUpSdMl: 20,
          filled: true,
        },
        view(roundMs + HOUR, [forecast('t1', roundMs + HOUR, 20, { waterContent: 0.62 })]),
      );
      expect(asked).toBeGreaterThanOrEqual(first * 0.75);
    }
    expect(dose(evening + 6 * 24 * HOUR)).toBeLessThan(first * 0.87);
  });
});
