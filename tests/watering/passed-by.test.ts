import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/ids.js';
import type { WateringDesk } from '../../src/watering/watering-desk.js';
import { deskOf, minis } from './desk-of.js';
import { forecast, HOUR, MIDNIGHT, only, view } from './helpers.js';

const round = MIDNIGHT + 18 * HOUR;
const ids = ['t1', 't2', 't3'];
const at = (nowMs: number): ReturnType<typeof view> =>
  view(
    nowMs,
    ids.map((id) => forecast(id, nowMs, 12, { basis: id === 't3' ? 'shared' : 'probe' })),
  );

function noticed(): WateringDesk {
  const desk = deskOf(minis(...ids));
  desk.roundNotice(round, at(round - 1.25 * HOUR));
  return desk;
}
const passed = (desk: WateringDesk) => only(desk.decide(at(round + 2 * HOUR)), 'passed-by');

describe('a round that is settled', () => {
  it('passed by what its probe shows without water, surely where another tray got some', () => {
    const desk = noticed();
    desk.trayEvent({ event: 'watered', at: toInstant(round), tray: 't2' }, at(round + 600_000));
    const [t1, ...others] = passed(desk);
    expect(t1).toMatchObject({ trayId: 't1', atMs: round });
    expect(t1?.seen).toBeGreaterThan(0.9);
    expect(others.map(({ trayId }) => trayId)).not.toContain('t2');
  });

  it('passed by the less surely where no tray got any, and hardly where water never comes at the rounds', () => {
    const desk = noticed();
    const [first = 1] = passed(desk).map(({ seen }) => seen);
    expect(first).toBeLessThan(0.5);
    let last = first;
    for (let day = 1; day <= 12; day++) {
      const next = round + day * 24 * HOUR;
      desk.roundNotice(next, at(next - 1.25 * HOUR));
      last = only(desk.decide(at(next + 2 * HOUR)), 'passed-by')[0]?.seen ?? 1;
    }
    expect(last).toBeLessThan(0.1);
  });
});
