import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import type { DeskEffect, WateringDesk } from '../../src/watering/desk/watering-desk.js';
import { deskOf, minis, type Put, tell } from './desk-of.js';
import { forecast, HOUR, MIDNIGHT, MIN, only, view } from './helpers.js';

const morning = MIDNIGHT + 9 * HOUR;

function watch(desk: WateringDesk, leftH: number, hours = 0.5, fromMs = morning): readonly string[] {
  const effects: DeskEffect[] = [];
  for (let nowMs = fromMs; nowMs < fromMs + hours * HOUR; nowMs += 10 * MIN) {
    const left = leftH - (nowMs - fromMs) / HOUR;
    effects.push(...desk.decide(view(nowMs, [forecast('t1', nowMs, left, { waterContent: 0.42 })])));
  }
  return sentences(effects);
}
const sentences = (effects: readonly DeskEffect[]): readonly string[] =>
  only(effects, 'alarm').map(({ transition }) => transition.sentence ?? '');
const squares: readonly Put[] = [{ id: 't1', blockSideMm: 38 }];

describe("an alarm's own sentence", () => {
  it('says who it is, where, what to pour and by when', () => {
    expect(watch(deskOf(squares), 3)).toEqual([
      't1, celery in 38 mm blocks on bench south: will not last until the 18:00 round. Water it, about 800 mL. 2 pours of 400 mL, 20 min to soak after each, then tip out the rest. It would be dry at about 11:30.',
    ]);
  });

  it("is in the farm's time zone and units", () => {
    const desk = deskOf(minis('t1'), {
      timeZone: 'Europe/Berlin',
      units: { volume: 'fl oz', temperature: 'F', length: 'in' },
    });
    expect(watch(desk, 3)).toEqual([
      't1, celery in minis on bench south: will not last until the 20:00 round. Water it, about 13 fl oz. It would be dry at about 13:30.',
    ]);
  });

  it('says of dry blocks how to pour, and of an ended alarm why it ended', () => {
    const desk = deskOf(squares);
    expect(watch(desk, 0)).toEqual([
      expect.stringMatching(
        /^t1, celery in 38 mm blocks on bench south: dry blocks\. Water now, in small pours, about \d+ mL\./,
      ),
    ]);
    const told = tell(desk, { do: 'watered', tray: 't1', by: 'Ana' }, view(morning + HOUR));
    expect(sentences(told.effects)).toEqual([
      'Seen by Ana. t1, celery in 38 mm blocks on bench south: it was watered.',
      'Done. t1, celery in 38 mm blocks on bench south: it was watered.',
    ]);
  });

  it('says by whom it was seen or put off, and keeps saying what is wrong', () => {
    const desk = deskOf(squares);
    watch(desk, 3);
    const later = tell(
      desk,
      { do: 'shelve', kind: 'refill', of: 't1', until: toInstant(morning + 4 * HOUR), by: 'Ben' },
      view(morning + HOUR),
    );
    expect(sentences(later.effects)).toEqual([
      expect.stringMatching(
        /^Later until 13:00 by Ben\. t1, celery in 38 mm blocks on bench south: will not /,
      ),
    ]);
  });

  it('claims no trouble when something is put off or switched off that is well', () => {
    const desk = deskOf(squares);
    const well = view(morning, [forecast('t1', morning, 60)]);
    const until = toInstant(morning + 4 * HOUR);
    expect(sentences(tell(desk, { do: 'shelve', kind: 'refill', of: 't1', until }, well).effects)).toEqual([
      'Later until 13:00. t1, celery in 38 mm blocks on bench south: nothing is wrong now.',
    ]);
    desk.decide(well);
    expect(desk.standing().alarms[0]?.sentence).toMatch(/nothing is wrong now\.$/);
    expect(sentences(tell(desk, { do: 'out-of-service', kind: 'dry', of: 't1' }, well).effects)).toEqual([
      'Switched off. t1, celery in 38 mm blocks on bench south: nothing is wrong now.',
    ]);
  });

  it('is whole without a crop, and for covers, wet blocks and benches', () => {
    const bare = deskOf([{ id: 't1', blockSideMm: 38, more: { crop: undefined } }]);
    expect(watch(bare, 3)[0]).toMatch(/^t1, 38 mm blocks on bench south: will not last/);
    const covered = deskOf([
      { id: 't1', more: { cover: 'film', germinatedAt: toInstant(MIDNIGHT - 72 * HOUR) } },
    ]);
    const after = MIDNIGHT + 40 * HOUR;
    expect(sentences(covered.decide(view(after, [])))).toEqual([
      't1, celery in minis on bench south: the cover is still on, long after germination. Take it off.',
    ]);
    const off = tell(covered, { do: 'cover', tray: 't1', cover: 'none' }, view(after + HOUR));
    expect(sentences(off.effects).at(-1)).toBe('Done. t1, celery in minis on bench south: the cover is off.');
    const cold = deskOf([]);
    const air = { temperatureC: new Map([['south', 2]]) };
    expect(
      [0, 10, 20].flatMap((minute) => sentences(cold.decide(view(morning + minute * MIN, [], air)))),
    ).toEqual(['Bench south: too cold (2.0 °C). Close it up or heat it.']);
  });
});
