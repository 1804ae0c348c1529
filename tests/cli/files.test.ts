import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { farmConfigSchema } from '../../shared/config/farm.js';
import { STATE_FOLDER, withStorePlaced } from '../../src/cli/config/service-place.js';
import { typed } from '../helpers/typed.js';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'drybell-files-'));
  writeFileSync(join(folder, 'farm.json'), JSON.stringify(farm));
  writeFileSync(
    join(folder, 'readings.csv'),
    'time,probe,value\n2026-04-18T04:00:00Z,temp,20\n2026-04-18T05:00:00Z,temp,21\n',
  );
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const farm = {
  farm: 'alder-row',
  timeZone: 'Europe/Berlin',
  rounds: ['07:00', '18:00'],
  benches: [{ id: 'south' }],
  trays: [{ id: 't1', bench: 'south', blockSideMm: 19, blockCount: 280 }],
  probes: [
    {
      id: 'temp',
      kind: 'air-temperature',
      bench: 'south',
      hookup: { board: 'b1', part: 'sht31', address: '0x44' },
    },
  ],
  boards: [{ id: 'b1' }],
};

async function drybell(words: readonly string[], cwd = folder) {
  const { status, stdout, stderr } = await typed(words, cwd);
  return { status, text: stdout + stderr };
}

describe('a command that writes a file', () => {
  const convert = (...more: readonly string[]) => [
    'convert',
    'log.csv',
    '--time',
    'time',
    '--value',
    'value=temp',
    '--out',
    'log.csv',
    ...more,
  ];

  it.each([
    ['convert, its own input too', convert, 'log.csv'],
    [
      'replay',
      (...more: readonly string[]) => [
        'replay',
        '--config',
        'farm.json',
        '--readings',
        'readings.csv',
        '--out',
        '.',
        ...more,
      ],
      'forecasts.jsonl',
    ],
    ['wiring', (...more: readonly string[]) => ['wiring', '--config', 'farm.json', ...more], 'wires-b1.txt'],
  ])(
    '%s: replaces none without --force, and leaves nothing half-written',
    async (_, command, file) => {
      const before = 'time,value\n2026-04-18T04:00:00Z,20\n';
      writeFileSync(join(folder, file), before);
      const refused = await drybell(command());
      expect(refused.text).toMatch(
        /there already, and nothing was written: give another name with --out, or --force/,
      );
      expect(refused.status).toBe(2);
      expect(readFileSync(join(folder, file), 'utf8')).toBe(before);
      const done = await drybell(command('--force'));
      expect(done.status, done.text).toBe(0);
      expect(readFileSync(join(folder, file), 'utf8')).not.toBe(before);
      expect(readdirSync(folder).filter((name) => /\.(part|unfinished|new)$/.test(name))).toEqual([]);
    },
    60_000,
  );
});

describe("the store's folder", () => {
  it('belongs to the configuration, wherever a command is typed; check says where it is', async () => {
    const elsewhere = join(folder, 'elsewhere');
    mkdirSync(elsewhere);
    const { text } = await drybell(['check', '--config', '../farm.json', '--config-only'], elsewhere);
    expect(text).toContain(`Its store is in ${join(folder, 'data')}.`);
    expect(readdirSync(elsewhere)).toEqual([]);
  });

  it("is the service's where a service runs this configuration, and as it is written when it is absolute", () => {
    const config = farmConfigSchema.parse({ ...farm, probes: [], boards: [] });
    const unit = join(folder, 'drybell.service');
    const file = join(folder, 'farm.json');
    writeFileSync(unit, `[Service]\nExecStart=/usr/bin/node /opt/drybell/main.js run --config ${file}\n`);
    expect(withStorePlaced(config, file, unit).store.folder).toBe(join(STATE_FOLDER, 'data'));
    expect(withStorePlaced(config, `${file}c`, unit).store.folder).toBe(join(folder, 'data'));
    const absolute = { ...config, store: { ...config.store, folder: '/srv/readings' } };
    expect(withStorePlaced(absolute, file, unit).store.folder).toBe('/srv/readings');
  });
});
