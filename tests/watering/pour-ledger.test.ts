import { describe, expect, it } from 'vitest';
import { beginPour, hasRow, noticePour, tellPour } from '../../src/watering/desk/pour-ledger.js';
import { HOUR, MIDNIGHT, MIN } from './helpers.js';

const seven = MIDNIGHT + 7 * HOUR;

describe('tellPour()', () => {
  it('takes a second report within half an hour for a further pour of the watering', () => {
    const first = tellPour([], { atMs: seven, by: 'Ana' });
    const second = tellPour(first.pours, { atMs: seven + 29 * MIN, by: 'Ben' });
    expect(second.outcome).toBe('further-pour');
    expect(second.pours).toHaveLength(2);
  });

  it('takes a report half an hour and a minute later for another watering', () => {
    const first = tellPour([], { atMs: seven, by: 'Ana' });
    expect(tellPour(first.pours, { atMs: seven + 31 * MIN, by: 'Ben' }).outcome).toBe('new');
  });

  it('adds up the pours of one person who tells an amount for each', () => {
    const first = tellPour([], { atMs: seven, by: 'Ana', ml: 300 });
    const second = tellPour(first.pours, { atMs: seven + 15 * MIN, by: 'Ana', ml: 280 });
    expect(second.outcome).toBe('further-pour');
    expect(second.pours.map(({ told }) => told?.ml)).toEqual([300, 280]);
  });

  it('joins a report to the watering that a probe has shown already', () => {
    const shown = noticePour([], seven, 540);
    const told = tellPour(shown.pours, { atMs: seven + 40 * MIN, by: 'Ana', ml: 600 });
    expect(told.outcome).toBe('known-from-probe');
    expect(told.pour).toEqual({
      atMs: seven,
      source: 'detected',
      takenUpMl: 540,
      told: { atMs: seven + 40 * MIN, by: 'Ana', ml: 600 },
    });
  });

  it.each([3.5, 4])(
    'joins 300 mL told %d h after a rise, as the model does; later it is another',
    (hours) => {
      const shown = noticePour([], seven, 540);
      const told = (atMs: number) => tellPour(shown.pours, { atMs, ml: 300 }).outcome;
      expect(told(seven + hours * HOUR)).toBe('known-from-probe');
      expect(told(seven + 4 * HOUR + 1)).toBe('new');
    },
  );
});

describe('hasRow()', () => {
  it('knows a row of a log by all it says', () => {
    const { pours } = tellPour([], { atMs: seven, by: 'Ana', ml: 300 });
    expect(hasRow(pours, { atMs: seven, by: 'Ana', ml: 300 })).toBe(true);
    expect(hasRow(pours, { atMs: seven, by: 'Ben', ml: 300 })).toBe(false);
    expect(hasRow(pours, { atMs: seven + MIN, by: 'Ana', ml: 300 })).toBe(false);
    expect(hasRow(pours, { atMs: seven, by: 'Ana' })).toBe(false);
  });
});

describe('noticePour()', () => {
  it('keeps what was told and what was taken up apart', () => {
    const told = tellPour([], { atMs: seven, by: 'Ana', ml: 700 });
    const shown = noticePour(told.pours, seven + 20 * MIN, 540);
    expect(shown.outcome).toBe('told-already');
    expect(shown.pour).toMatchObject({ atMs: seven, source: 'logged', takenUpMl: 540, told: { ml: 700 } });
  });

  it('is a watering of its own when nobody told of one within four hours', () => {
    const told = tellPour([], { atMs: seven, by: 'Ana' });
    expect(noticePour(told.pours, seven + 5 * HOUR, 300).outcome).toBe('new');
  });
});

describe('beginPour()', () => {
  it('enters what a probe begins to show; its amount follows, and is of the same pour', () => {
    const begun = beginPour([], seven);
    expect(begun).toMatchObject({ outcome: 'new', pour: { atMs: seven, source: 'detected' } });
    const shown = noticePour(begun.pours, seven, 540);
    expect(shown.outcome).toBe('measured');
    expect(shown.pours).toEqual([{ atMs: seven, source: 'detected', takenUpMl: 540 }]);
  });

  it('leaves a pour that was told as it is', () => {
    const told = tellPour([], { atMs: seven, by: 'Ana', ml: 700 });
    expect(beginPour(told.pours, seven + 20 * MIN)).toEqual({ ...told, outcome: 'told-already' });
  });

  it('is what somebody tells of later', () => {
    const begun = beginPour([], seven);
    const told = tellPour(begun.pours, { atMs: seven + 25 * MIN, by: 'Ana' });
    expect(told.outcome).toBe('known-from-probe');
    expect(noticePour(told.pours, seven, 540).outcome).toBe('told-already');
  });
});
