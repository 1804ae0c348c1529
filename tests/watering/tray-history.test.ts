import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import type { TrayEvent } from '../../shared/facts/tray-life.js';
import {
  foldHistory,
  historyFromState,
  historyState,
  recordEvent,
  startHistory,
  type TrayHistory,
} from '../../src/watering/desk/tray-history.js';
import { HOUR, MIDNIGHT } from './helpers.js';

const at = (hour: number): string => toInstant(MIDNIGHT + hour * HOUR);
const newTray = (tray: string, hour: number, blockSideMm = 19): TrayEvent => ({
  event: 'new',
  at: at(hour),
  tray,
  bench: 'south',
  blockSideMm,
  blockCount: 280,
  crop: 'celery',
});

function played(...events: readonly TrayEvent[]): TrayHistory {
  return events.reduce<TrayHistory>(
    (history, event) => {
      const outcome = recordEvent(history, event);
      if ('refused' in outcome) throw new Error(`${event.event}: ${outcome.code}`);
      return outcome;
    },
    startHistory([['moist-t1', 't1']]),
  );
}

describe('a tray`s life', () => {
  it('is its events played in order: sown, covered, germinated, uncovered, moved', () => {
    const tray = played(
      newTray('t1', 0),
      { event: 'sown', at: at(1), tray: 't1' },
      { event: 'covered', at: at(2), tray: 't1', cover: 'tight-dome' },
      { event: 'germinated', at: at(100), tray: 't1' },
      { event: 'uncovered', at: at(101), tray: 't1' },
      { event: 'moved', at: at(110), tray: 't1', bench: 'north' },
    ).now.trays.get('t1');
    expect(tray).toMatchObject({
      benchId: 'north',
      cover: 'none',
      sownAtMs: MIDNIGHT + HOUR,
      hasProbe: true,
    });
    expect(tray?.germinatedAtMs).toBe(MIDNIGHT + 100 * HOUR);
  });

  it('goes on in larger blocks when potted on: the source ends, the heir takes crop and sowing date', () => {
    const { now } = played(
      newTray('t1', 0),
      { event: 'sown', at: at(1), tray: 't1' },
      { event: 'new', at: at(200), tray: 't9', bench: 'south', blockSideMm: 51, blockCount: 48 },
      { event: 'potted-on', at: at(201), tray: 't1', toTray: 't9' },
    );
    expect(now.trays.get('t1')?.endedAtMs).toBe(MIDNIGHT + 201 * HOUR);
    expect(now.trays.get('t9')).toMatchObject({ crop: 'celery', sownAtMs: MIDNIGHT + HOUR });
    expect(now.probeTray.get('moist-t1')).toBeUndefined();
  });

  it('takes what is told of the time before the tray was entered, whatever the order in which it is told', () => {
    const { now } = played(
      newTray('t1', 200),
      { event: 'germinated', at: at(150), tray: 't1' },
      { event: 'covered', at: at(120), tray: 't1', cover: 'film' },
      { event: 'sown', at: at(40), tray: 't1' },
    );
    expect(now.trays.get('t1')).toMatchObject({
      sownAtMs: MIDNIGHT + 40 * HOUR,
      germinatedAtMs: MIDNIGHT + 150 * HOUR,
      cover: 'film',
      coveredAtMs: MIDNIGHT + 120 * HOUR,
    });
  });

  it('is potted on into a tray that was entered only after', () => {
    const { now } = played(newTray('t1', 0), newTray('t9', 200, 51), {
      event: 'potted-on',
      at: at(198),
      tray: 't1',
      toTray: 't9',
    });
    expect(now.trays.get('t1')?.endedAtMs).toBe(MIDNIGHT + 198 * HOUR);
  });

  it.each([
    ['unknown-tray', { event: 'sown', at: at(1), tray: 't7' }],
    ['tray-exists', newTray('t1', 1)],
    ['unknown-to-tray', { event: 'potted-on', at: at(1), tray: 't1', toTray: 't7' }],
    ['same-tray', { event: 'potted-on', at: at(1), tray: 't1', toTray: 't1' }],
  ] as const)('refuses what can`t follow: %s', (code, event) => {
    expect(recordEvent(played(newTray('t1', 0)), event as TrayEvent)).toEqual({ refused: true, code });
  });

  it('refuses potting on into blocks that are not larger', () => {
    const history = played(newTray('t1', 0, 38), newTray('t2', 0, 19));
    const outcome = recordEvent(history, { event: 'potted-on', at: at(1), tray: 't1', toTray: 't2' });
    expect(outcome).toEqual({ refused: true, code: 'smaller-block' });
  });

  it('carries a probe to another tray and leaves the first without', () => {
    const { now } = played(newTray('t1', 0), newTray('t2', 0), {
      event: 'attached',
      at: at(1),
      tray: 't2',
      probe: 'moist-t1',
    });
    expect([now.trays.get('t1')?.hasProbe, now.trays.get('t2')?.hasProbe]).toEqual([false, true]);
  });
});

const step = fc.oneof(
  fc.constant<(hour: number) => TrayEvent>((hour) => ({ event: 'sown', at: at(hour), tray: 't1' })),
  fc.constant<(hour: number) => TrayEvent>((hour) => ({ event: 'germinated', at: at(hour), tray: 't1' })),
  fc.constant<(hour: number) => TrayEvent>((hour) => ({ event: 'covered', at: at(hour), tray: 't1' })),
  fc.constant<(hour: number) => TrayEvent>((hour) => ({ event: 'uncovered', at: at(hour), tray: 't1' })),
  fc.constantFrom('south', 'north').map(
    (bench) =>
      (hour: number): TrayEvent => ({ event: 'moved', at: at(hour), tray: 't1', bench }),
  ),
);
const life = fc
  .array(step, { minLength: 1, maxLength: 12 })
  .map((steps) => steps.map((make, i) => make(i + 1)));

describe('recordEvent()', () => {
  it('plays what is told late at its own time: the order of telling does not matter', () => {
    fc.assert(
      fc.property(
        life.chain((events) =>
          fc.tuple(fc.constant(events), fc.shuffledSubarray(events, { minLength: events.length })),
        ),
        ([events, shuffled]) => {
          expect(played(newTray('t1', 0), ...shuffled).now).toEqual(played(newTray('t1', 0), ...events).now);
        },
      ),
    );
  });

  it('survives being written down and read back', () => {
    const history = played(newTray('t1', 0), { event: 'covered', at: at(2), tray: 't1' });
    const read = historyFromState(JSON.parse(JSON.stringify(historyState(history))));
    expect(JSON.stringify(historyState(read))).toBe(JSON.stringify(historyState(history)));
    expect(JSON.stringify([...read.now.trays])).toBe(JSON.stringify([...history.now.trays]));
  });
});

describe('foldHistory()', () => {
  it('changes nothing of the present but forgets trays that ended two days ago', () => {
    const history = played(newTray('t1', 0), newTray('t2', 0), { event: 'ended', at: at(3), tray: 't2' });
    const folded = foldHistory(history, MIDNIGHT + 60 * HOUR);
    expect(folded.events).toEqual([]);
    expect(folded.now.trays.get('t1')).toEqual(history.now.trays.get('t1'));
    expect(folded.now.trays.has('t2')).toBe(false);
  });
});
