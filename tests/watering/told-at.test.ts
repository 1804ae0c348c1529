import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import { commandSchema } from '../../shared/wire/command.js';
import { AS_OF_NOW, toldAt } from '../../shared/wire/command-time.js';
import { HOUR, MIDNIGHT } from './helpers.js';

const noon = MIDNIGHT + 12 * HOUR;

describe('a command that counts from the moment it is told', () => {
  it('is each one whose schema has no "at"', () => {
    const untimed = commandSchema.options.filter((option) => !('at' in option.shape));
    expect(untimed.map((option) => option.shape.do.value).sort()).toEqual([...AS_OF_NOW].sort());
  });

  it('refuses "at" in words rather than ignoring it', () => {
    const result = commandSchema.safeParse({ do: 'away', until: toInstant(noon), at: toInstant(noon) });
    expect(result.error?.issues.map(({ message }) => message)).toEqual([
      '"away" counts from the moment it is told; leave "at" out',
    ]);
  });

  it('gets no time when it was held up; what happened at some time does', () => {
    const at = toInstant(noon);
    const later = toInstant(noon + HOUR);
    expect(toldAt({ do: 'acknowledge' }, at)).toEqual({ do: 'acknowledge' });
    expect(toldAt({ do: 'watered', tray: 't1' }, at)).toEqual({ do: 'watered', tray: 't1', at });
    expect(toldAt({ do: 'watered', tray: 't1', at }, later)).toEqual({ do: 'watered', tray: 't1', at });
  });
});
