import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { ConfigProblem } from '../../src/cli/config/json-text.js';
import { ConfigError, loadConfig, parseConfig } from '../../src/cli/config/load-config.js';

function problemsOf(text: string): readonly ConfigProblem[] {
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
    expect(problemsOf('{ "farm": "alder-row",\n  "benches" [] }')[0]?.at).toEqual({ line: 2, column: 13 });
  });

  it('says where every other problem stands, and names what has an id by it', () => {
    const text = `// ours
{ "farm": "alder-row", "benches": [{ "id": "south" }],
  "trays": [
    { "id": "leek-1", "bench": "south", "blockSideMm": 38, "blockCount": 72 },
    { "id": "leek-2", "blockSideMm": 38, "bench": "nord", "blockCount": 72 }
  ] }`;
    expect(() => parseConfig(text, 'farm.json')).toThrow(
      'farm.json: line 5, column 42: trays[leek-2].bench: there is no bench "nord"; benches are: south',
    );
  });

  it.each([
    ['a key twice', '"farm": "b"', /^farm: stands at line 1, column 3 already; keep one of them/],
    ['a key twice deep inside', '"page": { "listenPort": 1, "listenPort": 2 }', /^listenPort: stands at/],
    ['__proto__', '"__proto__": { "trays": [] }', /^__proto__: unknown key/],
    ['a number beyond all', '"cadenceS": 1e999', /^cadenceS: expected a number, found a number beyond all/],
    [
      '30 February',
      '"trays": [{ "id": "t", "sownAt": "2026-02-30T10:00:00Z" }]',
      /trays\[t\].sownAt: expected an RFC/,
    ],
  ])('refuses %s instead of taking something of it', (_, part, told) => {
    const problems = problemsOf(`{ "farm": "a", "benches": [{ "id": "s" }], ${part} }`);
    expect(problems.map(({ where, message }) => `${where}: ${message}`)).toContainEqual(
      expect.stringMatching(told),
    );
  });

  it('refuses a text of a hundred thousand brackets in one sentence, and an empty one', () => {
    expect(problemsOf('['.repeat(100_000))).toEqual([
      {
        at: { line: 1, column: 65 },
        where: '',
        message: expect.stringMatching(/^more than 64 brackets are open/),
      },
    ]);
    expect(problemsOf('')).toMatchObject([
      { message: expect.stringMatching(/is missing|is empty|expected/) },
    ]);
  });

  it('names an unknown key by its whole path', () => {
    const problems = problemsOf('{ "farm": "alder-row", "benches": [{ "id": "south", "hue": 3 }] }');
    expect(problems).toMatchObject([
      { where: 'benches[south].hue', message: 'unknown key; check its spelling, or take it out' },
    ]);
  });

  it('reports all problems at once', () => {
    const problems = problemsOf(
      '{ "farm": "alder row", "benches": [{ "id": "south" }], "trays": [{ "id": "t1", "bench": "nord", "blockSideMm": 19, "blockCount": 280 }], "probes": [{ "id": "p", "kind": "pressure" }] }',
    );
    expect(problems.map(({ where }) => where)).toEqual(expect.arrayContaining(['farm', 'probes[p].kind']));
  });

  it('refuses a tray on a bench that is not there, a doubled id, a probe on no tray', () => {
    const problems = problemsOf(
      '{ "farm": "alder-row", "benches": [{ "id": "south" }], "trays": [{ "id": "t1", "bench": "nord", "blockSideMm": 19, "blockCount": 280 }, { "id": "t1", "bench": "south", "blockSideMm": 19, "blockCount": 280 }], "probes": [{ "id": "p", "kind": "block-moisture", "tray": "t9" }] }',
    );
    expect(problems.map(({ where }) => where)).toEqual(['trays[t1].id', 'trays[t1].bench', 'probes[p].tray']);
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
    expect(problems.map(({ where }) => where)).toEqual(['probes[p].calibration']);
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
    expect(problems).toMatchObject([{ where, message: expect.stringMatching(message) }]);
  });

  it('says of a missing key that it is missing', () => {
    expect(problemsOf('{ "farm": "alder-row" }')).toMatchObject([
      { where: 'benches', message: 'is missing; expected a list in [ ]' },
    ]);
  });

  it('says what to do when the file is not there', () => {
    expect(() => loadConfig('no-such-farm.json')).toThrow(
      /no such file; give the path of your configuration with --config/,
    );
  });
});
