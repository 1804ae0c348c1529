import { describe, expect, it } from 'vitest';
import { medianMs, optionNumber, optionValue, table } from '../bench/measurement.js';

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
