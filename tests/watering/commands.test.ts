import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import { type Command, commandSchema } from '../../shared/wire/command.js';
import { deskOf, minis, tell } from './desk-of.js';
import { HOUR, MIDNIGHT, MIN, only, view } from './helpers.js';

const noon = MIDNIGHT + 12 * HOUR;
const parsed = (command: unknown): Command => commandSchema.parse(command);

describe('a refused command', () => {
  const refusals: readonly (readonly [string, unknown, RegExp])[] = [
    ['unknown-tray', { do: 'sown', tray: 't7' }, /no tray "t7"/],
    ['unknown-tray', { do: 'watered', tray: 't7' }, /no tray "t7"/],
    ['unknown-tray', { do: 'note', tray: 't7', text: 'leggy' }, /no tray "t7"/],
    [
      'tray-exists',
      { do: 'new-tray', tray: 't1', bench: 'south', blockSideMm: 19, blockCount: 280 },
      /another name/,
    ],
    [
      'unknown-bench',
      { do: 'new-tray', tray: 't7', bench: 'attic', blockSideMm: 19, blockCount: 280 },
      /south, north/,
    ],
    ['unknown-bench', { do: 'move', tray: 't1', bench: 'attic' }, /south, north/],
    ['unknown-bench', { do: 'watered', bench: 'attic' }, /south, north/],
    [
      'unknown-bench',
      { do: 'pot-on', tray: 't1', toTray: 't9', bench: 'attic', blockSideMm: 51, blockCount: 48 },
      /attic/,
    ],
    ['unknown-probe', { do: 'attach', probe: 'moist-t9', tray: 't1' }, /moist-t1/],
    [
      'refill-above-capacity',
      {
        do: 'new-tray',
        tray: 't7',
        bench: 'south',
        blockSideMm: 19,
        blockCount: 280,
        refillPointM3PerM3: 0.6,
        containerCapacityM3PerM3: 0.5,
      },
      /must lie below/,
    ],
    [
      'smaller-block',
      { do: 'pot-on', tray: 't2', toTray: 't9', blockSideMm: 19, blockCount: 280 },
      /19 mm are no larger than those of "t2" \(38 mm\)/,
    ],
    ['smaller-block', { do: 'pot-on', tray: 't2', toTray: 't1' }, /no larger blocks than "t2" \(38 mm\)/],
    ['block-size-missing', { do: 'pot-on', tray: 't2', toTray: 't9' }, /Give the size of its blocks/],
    [
      'block-count-missing',
      { do: 'pot-on', tray: 't2', toTray: 't9', blockSideMm: 64 },
      /64 mm have no usual number/,
    ],
    [
      'block-count-missing',
      { do: 'new-tray', tray: 't9', bench: 'south', blockSideMm: 25 },
      /25 mm have no usual number/,
    ],
    [
      'tray-exists',
      { do: 'pot-on', tray: 't1', toTray: 't2', blockSideMm: 51 },
      /"t2" stands already: 72 blocks of 38 mm on bench south/,
    ],
    ['same-tray', { do: 'pot-on', tray: 't2', toTray: 't2' }, /itself/],
    ['time-in-future', { do: 'watered', tray: 't1', at: toInstant(noon + 10 * MIN) }, /still to come/],
    [
      'time-too-long-ago',
      { do: 'watered', tray: 't1', at: toInstant(noon - 365 * 24 * HOUR) },
      /up to 48 hours/,
    ],
    ['dose-too-large', { do: 'watered', tray: 't1', ml: 400_000 }, /400 L can't have stayed in tray t1/],
    ['which-trays', { do: 'watered' }, /a tray, a bench or a block size/],
    ['no-such-trays', { do: 'watered', blockSideMm: 51 }, /19 mm, 38 mm/],
    [
      'no-such-trays',
      { do: 'watered', tray: 't1', bench: 'north' },
      /^t1 stands on bench south, not north\. /,
    ],
    [
      'no-such-trays',
      { do: 'watered', tray: 't1', bench: 'north', blockSideMm: 38 },
      /^t1 stands on bench south, not north, and has blocks of 19 mm, not 38 mm\. /,
    ],
    ['weight-too-small', { do: 'weighed', tray: 't1', grams: 90 }, /can't weigh 90 g: 280 minis .* 120 g/],
    ['weight-too-large', { do: 'weighed', tray: 't1', grams: 21_400 }, /less than 8460 g/],
    ['no-round', { do: 'round-done' }, /no round lately/],
    ['not-active', { do: 'acknowledge', kind: 'dry', of: 't1' }, /No dry call about "t1" waits/],
    [
      'unknown-alarm',
      { do: 'shelve', kind: 'dry', of: 't7', until: toInstant(noon + HOUR) },
      /no dry call about "t7"/,
    ],
    ['until-in-past', { do: 'shelve', kind: 'dry', of: 't1', until: toInstant(noon - HOUR) }, /is over/],
    [
      'until-too-far',
      { do: 'shelve', kind: 'dry', of: 't1', until: toInstant(noon + 999 * HOUR) },
      /at most 7 days/,
    ],
    ['not-shelved', { do: 'unshelve', kind: 'dry', of: 't1' }, /not put off/],
    ['not-out-of-service', { do: 'in-service', kind: 'dry', of: 't1' }, /not switched off/],
    ['until-in-past', { do: 'away', until: toInstant(noon - HOUR) }, /is over/],
    ['until-too-far', { do: 'away', until: toInstant(noon + 9999 * HOUR) }, /at most 14 days/],
    ['not-away', { do: 'back' }, /not away/],
    ['nothing-to-undo', { do: 'undo', undo: 'r9' }, /no command "r9"/],
  ];

  it.each(refusals)('%s: %j', (code, command, words) => {
    const desk = deskOf([...minis('t1'), { id: 't2', blockSideMm: 38 }]);
    const before = JSON.stringify(desk.snapshot());
    const { answer, effects } = tell(desk, parsed(command), view(noon));
    expect(answer).toMatchObject({ ok: false, code });
    expect(answer.sentence).toMatch(words);
    expect(effects).toEqual([]);
    expect(JSON.stringify(desk.snapshot())).toBe(before);
  });
});

describe('a refusal on a farm that measures in inches', () => {
  it.each<[unknown, RegExp]>([
    [{ do: 'pot-on', tray: 't2', toTray: 't9', blockSideMm: 19 }, /Blocks of 3\/4 in .* \(1 1\/2 in\)/],
    [{ do: 'pot-on', tray: 't2', toTray: 't1' }, /"t2" \(1 1\/2 in\)/],
    [{ do: 'pot-on', tray: 't2', toTray: 't9', blockSideMm: 64 }, /Blocks of 2 1\/2 in have no usual number/],
    [{ do: 'watered', blockSideMm: 50.8 }, /blocks of 2 in stands\. .*: 3\/4 in, 1 1\/2 in\./],
  ])('speaks of inches: %j', (command, words) => {
    const desk = deskOf([...minis('t1'), { id: 't2', blockSideMm: 38 }], { units: { length: 'in' } });
    const { sentence } = tell(desk, parsed(command), view(noon)).answer;
    expect(sentence).toMatch(words);
    expect(sentence).not.toContain('mm');
  });
});

describe('a weight', () => {
  // dry 0.22 g/mL (the model's prior) to soaked 0.22 + 0.75 g/mL, with and without a tray of 640 g
  it.each([
    [19, 280],
    [38, 72],
    [51, 48],
  ])('of %d mm blocks is taken from honest scales, the tray counted or not', (blockSideMm, blockCount) => {
    const volumeMl = (blockCount * blockSideMm ** 3) / 1000;
    for (const gPerMl of [0.12, 0.22, 0.6, 0.97, 1.5])
      for (const trayG of [0, 640, 3000]) {
        const desk = deskOf([{ id: 't1', blockSideMm, more: { blockCount } }]);
        const grams = Math.round(volumeMl * gPerMl + trayG);
        expect(tell(desk, parsed({ do: 'weighed', tray: 't1', grams }), view(noon)).answer).toMatchObject({
          ok: true,
          sentence: `Tray t1 weighs ${grams} g.`,
        });
      }
  });
});

describe('tray life by command', () => {
  it.each([
    [19, 280],
    [20, 280],
    [38.1, 72],
    [50.8, 48],
  ])('a new tray of %d mm blocks has the usual %d when nobody counts them', (blockSideMm, blockCount) => {
    const desk = deskOf([]);
    const { answer } = tell(
      desk,
      parsed({ do: 'new-tray', tray: 't7', bench: 'south', blockSideMm }),
      view(noon),
    );
    expect(answer.sentence).toContain(`bench south: ${blockCount} `);
    expect(desk.trays()[0]).toMatchObject({ blockSideMm, blockCount });
    tell(
      desk,
      parsed({ do: 'pot-on', tray: 't7', toTray: 't8', blockSideMm: 64, blockCount: 20 }),
      view(noon),
    );
    expect(desk.trays()[0]).toMatchObject({ id: 't8', blockSideMm: 64, blockCount: 20 });
  });

  it('potting on makes the new tray, hands on crop and sowing date, and ends the old', () => {
    const desk = deskOf(minis('t1'));
    tell(desk, parsed({ do: 'sown', tray: 't1', at: toInstant(MIDNIGHT) }), view(noon));
    const { answer, effects } = tell(
      desk,
      parsed({ do: 'pot-on', tray: 't1', toTray: 't9', blockSideMm: 51, blockCount: 48 }),
      view(noon),
    );
    expect(answer).toMatchObject({ ok: true, code: 'done', sentence: 'Tray t1 is potted on into t9.' });
    expect(only(effects, 'tray-event').map(({ event }) => event.event)).toEqual(['new', 'potted-on']);
    expect(desk.trays().map(({ id }) => id)).toEqual(['t9']);
    expect(desk.trays()[0]).toMatchObject({ crop: 'celery', benchId: 'south', sownAtMs: MIDNIGHT });
  });

  it('a command that comes twice with one ref is carried out once', () => {
    const desk = deskOf(minis('t1'));
    tell(desk, parsed({ do: 'move', tray: 't1', bench: 'north', ref: 'm1' }), view(noon));
    const again = tell(desk, parsed({ do: 'move', tray: 't1', bench: 'north', ref: 'm1' }), view(noon));
    expect(again.answer).toMatchObject({ ok: true, code: 'told-already' });
    expect(again.effects).toEqual([]);
  });
});
