import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ConfigError, loadConfig, parseConfig } from '../../src/config/load-config.js';

function problemsOf(text: string): readonly { where: string; message: string }[] {
  try {
    parseConfig(text, 'farm.json');
  } catch (error) {
    if (error instanceof ConfigError) return error.problems;
    throw error;
  }
  return [];
}

describe('parseConfig()', () => {
  it('takes comments and trailing commas', () => {
    const farm = parseConfig(
      '{ // ours\n "farm": "alder-row", "benches": [{ "id": "south" },], }',
      'farm.json',
    );
    expect(farm.benches[0]?.id).toBe('south');
    expect(farm.timeZone).toBe('UTC');
  });

  it('says line and column of a syntax error', () => {
    expect(problemsOf('{ "farm": "alder-row",\n  "benches" [] }')[0]?.where).toBe('line 2, column 13');
  });

  it('names an unknown key by its whole path', () => {
    const problems = problemsOf('{ "farm": "alder-row", "benches": [{ "id": "south", "hue": 3 }] }');
    expect(problems).toEqual([
      { where: 'benches[0].hue', message: 'unknown key; check its spelling, or take it out' },
    ]);
  });

  it('reports all problems at once', () => {
    const problems = problemsOf(
      '{ "farm": "alder row", "benches": [{ "id": "south" }], "trays": [{ "id": "t1", "bench": "nord", "blockSideMm": 19, "blockCount": 280 }], "probes": [{ "id": "p", "kind": "pressure" }] }',
    );
    expect(problems.map(({ where }) => where)).toEqual(expect.arrayContaining(['farm', 'probes[0].kind']));
  });

  it('refuses a tray on a bench that is not there, a doubled id, a probe on no tray', () => {
    const problems = problemsOf(
      '{ "farm": "alder-row", "benches": [{ "id": "south" }], "trays": [{ "id": "t1", "bench": "nord", "blockSideMm": 19, "blockCount": 280 }, { "id": "t1", "bench": "south", "blockSideMm": 19, "blockCount": 280 }], "probes": [{ "id": "p", "kind": "block-moisture", "tray": "t9" }] }',
    );
    expect(problems.map(({ where }) => where)).toEqual(['trays[1].id', 'trays[0].bench', 'probes[0].tray']);
  });

  it.each([
    ['one voltage only', '[{"volts":1,"waterContentM3PerM3":0.2},{"volts":1,"waterContentM3PerM3":0.5}]'],
    [
      'one water content only',
      '[{"volts":1,"waterContentM3PerM3":0.5},{"volts":2,"waterContentM3PerM3":0.5}]',
    ],
    ['one point', '[{"volts":1,"waterContentM3PerM3":0.5}]'],
  ])('refuses a calibration with %s', (_, calibration) => {
    const problems = problemsOf(
      `{ "farm": "a", "benches": [{ "id": "s" }], "trays": [{ "id": "t", "bench": "s", "blockSideMm": 19, "blockCount": 1 }], "probes": [{ "id": "p", "kind": "block-moisture", "tray": "t", "calibration": ${calibration} }] }`,
    );
    expect(problems.map(({ where }) => where)).toEqual(['probes[0].calibration']);
  });

  it('says of a file that is not UTF-8 text what it is', () => {
    const file = join(mkdtempSync(join(tmpdir(), 'drybell-config-')), 'farm.json');
    writeFileSync(file, Buffer.from('{ "farm": "S\xfcd" }', 'latin1'));
    expect(() => loadConfig(file)).toThrow(/is not UTF-8 text; save it as UTF-8/);
    rmSync(dirname(file), { recursive: true });
  });

  it.each([
    ['{ "from": "22:00" }', 'notices.quietHours.to', /^is missing/],
    ['{ "from": "22:00", "to": "22:00" }', 'notices.quietHours.to', /another time than "from"/],
    ['{ "fri": { "from": "22", "to": "06:00" } }', 'notices.quietHours.fri.from', /such as "07:00"/],
    [
      '{ "fri": { "from": "22:00", "to": "06:00" }, "fryday": {} }',
      'notices.quietHours.fryday',
      /unknown key/,
    ],
    ['{}', 'notices.quietHours', /expected "from" and "to", or weekdays/],
  ])('says what is wrong with quiet hours %s', (quietHours, where, message) => {
    const problems = problemsOf(
      `{ "farm": "alder-row", "benches": [{ "id": "south" }], "notices": { "quietHours": ${quietHours} } }`,
    );
    expect(problems).toEqual([{ where, message: expect.stringMatching(message) }]);
  });

  it('says of a missing key that it is missing', () => {
    expect(problemsOf('{ "farm": "alder-row" }')).toEqual([
      { where: 'benches', message: 'is missing; expected list' },
    ]);
  });

  it('says what to do when the file is not there', () => {
    expect(() => loadConfig('no-such-farm.json')).toThrow(
      /no such file; give the path of your configuration with --config/,
    );
  });
});
