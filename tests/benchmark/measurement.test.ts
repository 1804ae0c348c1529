import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { medianMs, optionNumber, optionValue, table } from '../bench/measurement.js';
import { pageOf, partsOf } from '../bench/measurements-page.js';

describe('the page of measurements', () => {
  it('keeps each part until it is measured again, and names those that never were', () => {
    const names = ['cost', 'notices', 'store', 'fuzz'];
    const parts = new Map([
      ['store', '## store\n\nin May\n'],
      ['cost', '## cost\n\nin June\n'],
    ]);
    const page = pageOf(parts, names);
    expect(page.indexOf('in June')).toBeLessThan(page.indexOf('in May'));
    expect(page).toContain('- `npm run bench -- --write notices`');
    expect(page).not.toContain('fuzz');
    const again = partsOf(page).set('store', '## store\n\nin July\n');
    expect(pageOf(again, names)).toBe(page.replace('in May', 'in July'));
  });
});

describe('measurement helpers', () => {
  it('read options and refuse what is no number', () => {
    const options = ['--seeds', '3', '--only', 'humid'];
    expect(optionNumber(options, '--seeds', 1)).toBe(3);
    expect(optionNumber(options, '--days', 7)).toBe(7);
    expect(optionValue(options, '--only')).toBe('humid');
    expect(() => optionNumber(['--seeds', 'many'], '--seeds', 1)).toThrow(
      /--seeds takes a number, got "many"/,
    );
  });

  it('align a table and take the median of repeated runs', () => {
    expect(
      table([
        ['', 'a', 'bbb'],
        ['long', '10', '1'],
      ]),
    ).toBe('       a  bbb\nlong  10    1');
    let runs = 0;
    expect(
      medianMs(3, () => {
        runs += 1;
      }),
    ).toBeGreaterThanOrEqual(0);
    expect(runs).toBe(4);
  });
});

it('every name that "npm run bench" lists is a measurement and says what it measures', async () => {
  const folder = join(import.meta.dirname, '../../dist/tests/bench');
  const listed = execFileSync(process.execPath, [join(folder, 'main.js')], { encoding: 'utf8' });
  const names = /is one of: (.*)/.exec(listed)?.[1]?.split(', ') ?? [];
  expect(names).toContain('forecast');
  for (const name of names) {
    const { measurement } = await import(pathToFileURL(join(folder, `${name}.js`)).href);
    expect(measurement?.help, name).toMatch(/\w{3}/);
  }
});
