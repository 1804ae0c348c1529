import { stripVTControlCharacters } from 'node:util';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { columnsOf, fitted, shownOn } from '../../src/cli/terminal/fitted.js';

const tooWide = (text: string, columns: number): readonly string[] =>
  text
    .split('\n')
    .map(stripVTControlCharacters)
    .filter((line) => line.length > columns && line.trim().includes(' '));

describe('fitted()', () => {
  it('breaks at blanks, set in a little more than the line began', () => {
    expect(fitted('  The monitor of alder-row does not run; start it.', 24)).toBe(
      '  The monitor of\n    alder-row does not\n    run; start it.',
    );
  });

  it('goes on below the text of a short label', () => {
    expect(fitted('time     "Date" and "Time": day first, clock of UTC', 30)).toBe(
      'time     "Date" and "Time":\n         day first, clock of\n         UTC',
    );
  });

  it('a command goes on after a backslash, so that it can be pasted; its remark stands above', () => {
    expect(fitted('  drybell round done --except leek-1 lettuce-1    all but these two', 30)).toBe(
      '  # all but these two\n  drybell round done \\\n      --except leek-1 \\\n      lettuce-1',
    );
  });

  it('leaves a path, an address and what fits as they are', () => {
    const address = 'see http://127.0.0.1:8080/a/very/long/way/to/go';
    expect(fitted(address, 20)).toBe('see\n  http://127.0.0.1:8080/a/very/long/way/to/go');
    expect(fitted('', 20)).toBe('');
    expect(fitted('a  b', 4)).toBe('a  b');
    expect(fitted('Name [alder-row] ', 40)).toBe('Name [alder-row] ');
  });

  it('is never wider, loses no word, and does not count colours', () => {
    const word = fc.stringMatching(/^[a-z]{1,9}$/);
    fc.assert(
      fc.property(
        fc.array(
          fc.oneof(
            word,
            word.map((one) => `\u001b[31m${one}\u001b[39m`),
          ),
          { maxLength: 30 },
        ),
        fc.integer({ min: 20, max: 200 }),
        (words, columns) => {
          const text = fitted(`  ${words.join(' ')}`, columns);
          expect(tooWide(text, columns)).toEqual([]);
          expect(text.split(/\s+/).filter((one) => one !== '')).toEqual(words);
        },
      ),
    );
  });
});

describe('what a stream shows', () => {
  const red = '\u001b[31mdry\u001b[39m';
  const terminal = { isTTY: true, columns: 80 };

  it.each([
    ['a terminal', terminal, {}, red],
    ['a terminal that wants no colours', terminal, { NO_COLOR: '1' }, 'dry'],
    ['a pipe, also where a service builds', {}, { CI: 'true' }, 'dry'],
    ['a pipe that was told to', {}, { FORCE_COLOR: '1' }, red],
  ])('on %s', (_, stream, env, shown) => {
    expect(shownOn(stream, red, env)).toBe(shown);
  });

  it('a terminal that does not say how wide it is has 80 columns, a pipe has no end', () => {
    expect(columnsOf({ isTTY: true, columns: 0 })).toBe(80);
    expect(columnsOf({ columns: 12 })).toBe(Number.POSITIVE_INFINITY);
  });
});
