import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { editConfigFile, withProbeEdits } from '../../../src/board/calibration/edit-config.js';
import { parseConfig } from '../../../src/cli/config/load-config.js';

const text = `{
  // the small house behind the barn
  "farm": "alder-row",
  "benches": [{ "id": "south" }],
  "trays": [{ "id": "t1", "bench": "south", "blockSideMm": 38, "blockCount": 72 }],
  "probes": [
    { "id": "temp-south", "kind": "air-temperature", "bench": "south" }, // by the door
    {
      "id": "moist-t1", "kind": "block-moisture", "tray": "t1",
      /* before the new blade */
      "calibration": [ { "volts": 1, "waterContentM3PerM3": 0.6 }, { "volts": 2, "waterContentM3PerM3": 0.2 } ],
    },
  ],
}
`;
const points = [
  { volts: 1.3, waterContentM3PerM3: 0.58 },
  { volts: 2.2, waterContentM3PerM3: 0.15 },
];
const edit = { path: ['calibration'], value: points };

describe('editConfigFile()', () => {
  let folder = '';
  let file = '';
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'drybell-config-'));
    file = join(folder, 'drybell.jsonc');
    writeFileSync(file, text, { mode: 0o640 });
  });
  afterEach(() => rmSync(folder, { recursive: true }));

  const check = (edited: string) => void parseConfig(edited, file);

  it('sets the calibration, keeps comments and the rest, and keeps the old file', () => {
    const kept = editConfigFile(file, 'moist-t1', [edit], check, '2026-04-19');
    const after = readFileSync(file, 'utf8');
    expect(parseConfig(after, file).probes[1]).toMatchObject({ calibration: points });
    for (const comment of [
      '// the small house behind the barn',
      '// by the door',
      '/* before the new blade */',
    ])
      expect(after).toContain(comment);
    expect(readFileSync(kept, 'utf8')).toBe(text);
    const untouched = (all: string) => all.split('\n').filter((line) => !line.includes('calibration'));
    expect(untouched(after)).toEqual(untouched(text));
    const again = editConfigFile(file, 'moist-t1', [edit], check, '2026-04-19');
    expect(again).not.toBe(kept);
    expect(readdirSync(folder).filter((name) => name.endsWith('.new'))).toEqual([]);
  });

  it('writes nothing when the result would be no configuration', () => {
    const bad = { path: ['calibration'], value: [{ volts: 1.3, waterContentM3PerM3: 7 }] };
    expect(() => editConfigFile(file, 'moist-t1', [bad], check, '2026-04-19')).toThrow();
    expect(readFileSync(file, 'utf8')).toBe(text);
    expect(readdirSync(folder)).toEqual(['drybell.jsonc']);
  });

  it('adds what was not there, and knows an unknown probe', () => {
    const bare = withProbeEdits(text, 'temp-south', [{ path: ['bench'], value: 'south' }]);
    expect(parseConfig(bare, file).probes).toHaveLength(2);
    expect(() => withProbeEdits(text, 'moist-t9', [edit])).toThrow('there is no probe "moist-t9"');
  });
});
