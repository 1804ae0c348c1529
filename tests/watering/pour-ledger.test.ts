import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  beginPour,
  noticePour,
  type Pour,
  tellPour,
  untellPour,
} from '../../src/watering/trays/pour-ledger.js';
import { HOUR, MIDNIGHT, MIN } from './helpers.js';

const seven = MIDNIGHT + 7 * HOUR;

describe('tellPour()', () => {
  it('counts reports of the same pour by two people within half an hour once', () => {
    const first = tellPour([], { atMs: seven, by: 'Ana' });
    const second = tellPour(first.pours, { atMs: seven + 29 * MIN, by: 'Ben' });
    expect(second.outcome).toBe('told-already');
    expect(second.pours).toHaveLength(1);
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

  it('counts any crowd of reports without amounts within half an hour once', () => {
    const report = fc.record({
      minute: fc.integer({ min: 0, max: 30 }),
      by: fc.constantFrom('Ana', 'Ben', 'Cleo'),
    });
    fc.assert(
      fc.property(fc.array(report, { minLength: 1, maxLength: 10 }), (reports) => {
        const first = reports[0];
        if (first === undefined) return;
        let pours: readonly Pour[] = tellPour([], { atMs: seven, by: 'Dan' }).pours;
        for (const { minute, by } of reports)
          pours = tellPour(pours, { atMs: seven + minute * MIN, by }).pours;
        expect(pours).toHaveLength(1);
      }),
    );
  });
});

describe('noticePour()', () => {
  it('keeps what was told and what was taken up apart', () => {
    const told = tellPour([], { atMs: seven, by: 'Ana', ml: 700 });
    const shown = noticePour(told.pours, seven + 20 * MIN, 540);
    expect(shown.outcome).toBe('told-already');
    expect(shown.pour).toMatchObject({ atMs: seven, source: 'logged', takenUpMl: 540, told: { ml: 700 } });
  });

  it('is a watering of its own when nobody told of one within three hours', () => {
    const told = tellPour([], { atMs: seven, by: 'Ana' });
    expect(noticePour(told.pours, seven + 4 * HOUR, 300).outcome).toBe('new');
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

  it('stays when what was told of it is taken back', () => {
    const begun = beginPour([], seven);
    const told = tellPour(begun.pours, { atMs: seven + 25 * MIN, by: 'Ana' });
    expect(untellPour(told.pours, seven + 25 * MIN, 'Ana')).toEqual(begun.pours);
  });
});

describe('untellPour()', () => {
  it('strikes what was told but keeps what a probe has shown', () => {
    const told = tellPour([], { atMs: seven, by: 'Ana' });
    expect(untellPour(told.pours, seven, 'Ana')).toEqual([]);
    const shown = noticePour(told.pours, seven + 20 * MIN, 540);
    expect(untellPour(shown.pours, seven, 'Ana')).toEqual([
      { atMs: seven, source: 'detected', takenUpMl: 540 },
    ]);
  });
});
