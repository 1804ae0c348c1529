import { describe, expect, it } from 'vitest';
import { plainIssue } from '../../shared/base/plain-issue.js';
import { farmConfigSchema } from '../../shared/config/farm.js';

const farm = { farm: 'alder-row', benches: [{ id: 'south' }] };
const told = (part: object): readonly string[] =>
  farmConfigSchema.safeParse({ ...farm, ...part }).error?.issues.map(plainIssue) ?? [];

describe('what a schema says of a value', () => {
  it.each<[object, string]>([
    [{ cadenceS: '60' }, 'expected a number, found text in double quotes'],
    [{ benches: {} }, 'expected a list in [ ], found keys and values in { }'],
    [{ trays: [{ id: 't', bench: 'south', blockSideMm: 19, blockCount: 1.5 }] }, 'expected a whole number'],
    [{ latitude: 100, longitude: 10 }, 'expected 90 or less'],
    [{ notices: { leadMin: -1 } }, 'expected 5 or more'],
    [{ units: { volume: 'l' } }, 'expected one of mL, fl oz'],
    [{ messaging: { user: '', password: 'a word' } }, 'is empty; expected some text'],
    [
      { probes: [{ id: 'p', kind: 'soil' }] },
      'expected one of air-temperature, relative-humidity, light, block-moisture, tray-weight',
    ],
    [{ benches: [] }, 'expected at least one bench'],
  ])('of %j: %s', (part, sentence) => {
    expect(told(part)).toContain(sentence);
  });

  it('never speaks the library’s language', () => {
    const wrong = [
      { cadenceS: null },
      { store: { folder: 5 } },
      { page: { listenPort: 99_999 } },
      { probes: [{ id: 'p', kind: 'air-temperature', bench: 'south', hookup: { part: 'w' } }] },
      { farm: undefined },
      { language: 'xx' },
    ];
    const all = wrong.flatMap(told);
    expect(all.length).toBeGreaterThanOrEqual(wrong.length);
    for (const sentence of all)
      expect(sentence).not.toMatch(/Invalid|Too (small|big)|received|discriminator/);
  });
});
