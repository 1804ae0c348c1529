import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import { answerSchema } from '../../shared/wire/command.js';
import { deskOf, tell } from './desk-of.js';
import { forecast, HOUR, MIDNIGHT, view } from './helpers.js';

const noon = MIDNIGHT + 12 * HOUR;

describe('the list of trays', () => {
  it('tells each tray as it stands, bench by bench, and changes nothing', () => {
    const desk = deskOf([
      { id: 'leek-1', bench: 'north', blockSideMm: 38, more: { crop: 'leek', cover: 'film' } },
      { id: 'celery-10' },
      { id: 't1', more: { sownAt: toInstant(MIDNIGHT - 48 * HOUR) } },
      { id: 'celery-2' },
      { id: 'old-1' },
    ]);
    tell(desk, { do: 'end', tray: 'old-1' }, view(noon));
    tell(desk, { do: 'germinated', tray: 't1', at: toInstant(MIDNIGHT + HOUR) }, view(noon));
    tell(desk, { do: 'watered', tray: 't1', at: toInstant(noon - HOUR) }, view(noon));
    const before = JSON.stringify(desk.snapshot());
    const now = view(noon, [forecast('t1', noon, 9, { waterContent: 0.52 })]);
    const { answer, effects } = tell(desk, { do: 'list-trays' }, now);
    expect(answer.sentence).toBe('4 trays stand: 3 on bench south, 1 on bench north.');
    expect(answer.trays?.map(({ id }) => id)).toEqual(['celery-2', 'celery-10', 't1', 'leek-1']);
    expect(answer.trays?.[2]).toMatchObject({
      bench: 'south',
      blockSideMm: 19,
      blockCount: 280,
      crop: 'celery',
      cover: 'none',
      sownAt: toInstant(MIDNIGHT - 48 * HOUR),
      germinatedAt: toInstant(MIDNIGHT + HOUR),
      probes: ['moist-t1'],
      lastWateredAt: toInstant(noon - HOUR),
      moistureIndex: 0.6,
      hoursToRefill: { p50: 9 },
    });
    expect(answer.trays?.[3]).toEqual({
      id: 'leek-1',
      bench: 'north',
      blockSideMm: 38,
      blockCount: 72,
      crop: 'leek',
      cover: 'film',
      probes: [],
    });
    expect(answerSchema.parse(answer)).toEqual(answer);
    expect(effects).toEqual([]);
    expect(JSON.stringify(desk.snapshot())).toBe(before);
  });

  it('of an empty house says so', () => {
    const { answer } = tell(deskOf([]), { do: 'list-trays' }, view(noon));
    expect(answer).toMatchObject({ ok: true, sentence: 'No tray stands on the benches.', trays: [] });
  });
});
