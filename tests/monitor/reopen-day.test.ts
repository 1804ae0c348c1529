import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import type { DayInput } from '../../src/monitor/day/core/day-input.js';
import { reopenDay } from '../../src/monitor/day/reopen-day.js';
import { forecast, HOUR, MIDNIGHT, MIN } from '../watering/helpers.js';
import { DictatedFarm } from './dictated-farm.js';
import { HistoryFarm } from './history-farm.js';

const start = MIDNIGHT + 12 * HOUR;

/** A day in which trays were watered and weighed, as it was kept. */
function lived(breaks: (call: string) => boolean = () => false) {
  const farm = new DictatedFarm((trayId, nowMs) => forecast(trayId, nowMs, 60), breaks, start);
  farm.tell({ do: 'watered', tray: 't1' }, 'w1');
  farm.runTo(start + 20 * MIN);
  farm.tell({ do: 'weighed', tray: 't2', grams: 2000 }, 'g1');
  farm.runTo(start + 80 * MIN);
  farm.tell({ do: 'watered', tray: 't3' }, 'w3');
  return farm;
}

const done = (day: { core: { state(): unknown } }) =>
  (day.core.state() as { model: { calls: string[] } }).model.calls;

describe('a start that plays the kept day', () => {
  it('is not made where something told throws now: the states kept beside the day have it', () => {
    const { day } = lived();
    const { parts } = lived((call) => call === 'weighed t2');
    expect(reopenDay(parts, day.past, start + 2 * HOUR, undefined)).toBeUndefined();
  });

  it('a decision that throws is passed over, with all that is decided after it', () => {
    const { day } = lived();
    const isBad = (nowMs: number) => nowMs === start + HOUR;
    const { parts } = new DictatedFarm((trayId, nowMs) => {
      if (isBad(nowMs)) throw new TypeError('no such forecast');
      return forecast(trayId, nowMs, 60);
    });
    const reopened = reopenDay(parts, day.past, start + 2 * HOUR, undefined);
    const kinds = reopened?.leftOut.map(({ kind }: DayInput) => kind);
    expect(kinds).toContain('due');
    expect(done(reopened?.day ?? day)).toContain('watered t3');
    expect(reopened?.day.core.nextDue().atMs).toBeGreaterThanOrEqual(start + 2 * HOUR);
  });

  it('is not made where hardly anything can be played, or the state can not be used', () => {
    const { day } = lived();
    for (let atMs = start + 1.5 * HOUR; atMs < start + 2 * HOUR; atMs += MIN)
      day.take({ kind: 'left-out', atMs, trayIds: ['t1'], ref: `l${atMs}` });
    let isBroken = false;
    const { parts } = new DictatedFarm((trayId, nowMs) => {
      if (isBroken) throw new RangeError('no ensemble');
      return forecast(trayId, nowMs, 60);
    });
    isBroken = true;
    expect(reopenDay(parts, day.past, start + 2 * HOUR, undefined)).toBeUndefined();
    const unusable = {
      ...parts,
      createModel: () => {
        throw new RangeError('no such state');
      },
    };
    expect(reopenDay(unusable, day.past, start + 2 * HOUR, undefined)).toBeUndefined();
  });
});

describe('a start after the notice of a round went out', () => {
  it('does not give it again, whatever was told since', async () => {
    const farm = new HistoryFarm();
    farm.read(150);
    farm.wait(7);
    farm.tell({ do: 'away', until: toInstant(farm.nowMs + 30 * MIN) }, 'a1');
    farm.save();
    await farm.reopen();
    farm.wait(1);
    farm.save();
    const rounds = farm.facts.flatMap((fact) => (fact.kind === 'round-notice' ? [fact.notice.round] : []));
    expect(rounds).toEqual(['2026-04-18T07:00:00Z', '2026-04-18T06:17:00Z']);
  });
});
