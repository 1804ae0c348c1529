import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parse } from 'csv-parse/sync';
import { beforeAll, describe, expect, it } from 'vitest';
import { csvRow, freeText } from '../../src/store/exports/csv.js';
import { STORE_FILE } from '../../src/store/sqlite/file/store-file.js';
import { openSqliteReview } from '../../src/store/sqlite/open-sqlite-review.js';
import { typed } from '../helpers/typed.js';
import { HOUR_MS, NOON_MS } from './helpers/sample-facts.js';
import { writeSeason } from './helpers/season-store.js';
import { makeTempFolder, tempFolder } from './helpers/temp-folder.js';

const program = join(dirname(fileURLToPath(import.meta.url)), '../../dist/src/cli/main.js');
const since = ['--since', '2026-04-01', '--until', '2026-08-01'];

let folder: string;
beforeAll(async () => {
  if (!existsSync(program)) throw new Error(`${program} is missing: run "npm run build" first`);
  folder = makeTempFolder();
  await writeSeason(folder);
  writeFileSync(
    join(folder, 'drybell.json'),
    JSON.stringify({
      farm: 'alder-row',
      timeZone: 'Europe/Berlin',
      benches: [{ id: 'south' }, { id: 'north' }],
      store: { folder },
    }),
  );
});

const drybell = (...words: string[]) => typed(words, folder);

describe('drybell curves', () => {
  it('prints the table of hours to refill, smallest blocks first', async () => {
    const { status, stdout } = await drybell('curves', ...since);
    expect(status).toBe(0);
    const sizes = stdout.split('\n').flatMap((line) => /^ *(\d+) mm +(\d+)/.exec(line)?.slice(1, 3) ?? []);
    expect(sizes).toEqual(['19', '12', '38', '12', '51', '12']);
  });

  it('writes bands as CSV with units in the header, for the sizes asked for', async () => {
    const out = join(tempFolder(), 'curves.csv');
    expect(
      (await drybell('curves', ...since, '--size', '19,51', '--bench', 'south', '--out', out)).status,
    ).toBe(0);
    const rows: Record<string, string>[] = parse(readFileSync(out, 'utf8'), { columns: true });
    expect(Object.keys(rows[0] ?? {})).toEqual([
      'blockSideMm',
      'elapsedH',
      'waterContentP10M3PerM3',
      'waterContentP50M3PerM3',
      'waterContentP90M3PerM3',
      'curveCount',
    ]);
    expect([...new Set(rows.map((row) => row['blockSideMm']))]).toEqual(['19', '51']);
    expect(Number(rows[0]?.['waterContentP50M3PerM3'])).toBeCloseTo(0.62, 9);
  });

  it('draws every size with its own ink and dash, named and described', async () => {
    const out = join(tempFolder(), 'curves.svg');
    expect((await drybell('curves', ...since, '--out', out)).status).toBe(0);
    const svg = readFileSync(out, 'utf8');
    expect(svg.match(/<polyline/g)).toHaveLength(3);
    expect(new Set(svg.match(/<polyline[^>]*stroke="#[0-9a-f]+"/g)?.map((line) => line.slice(-8))).size).toBe(
      3,
    );
    for (const name of ['19 mm', '38 mm', '51 mm', 'hours since the watering', 'all benches'])
      expect(svg).toContain(name);
    expect(svg).toMatch(/<desc id="about">19 mm blocks: median from 62 to \d+ percent/);
    expect(svg).not.toMatch(/NaN|undefined|http(?!:\/\/www\.w3\.org)/);
  });

  it('says so when nothing fits, and still writes an empty picture', async () => {
    const out = join(tempFolder(), 'none.svg');
    const { status, stderr } = await drybell('curves', ...since, '--bench', 'north', '--out', out);
    expect(status).toBe(0);
    expect(stderr).toContain('No dry-down');
    expect(readFileSync(out, 'utf8')).toContain('</svg>');
  });

  it.each([
    [['--since', '2026-08-01', '--until', '2026-04-01'], 'must lie before'],
    [['--since', 'spring'], 'expected a day such as'],
    [['--out', 'curves.png'], 'ends in .svg or .csv'],
    [['--config', 'nowhere.json'], 'nowhere.json'],
  ])('refuses %j with one clear message', async (words, message) => {
    const { status, stderr } = await drybell('curves', ...words);
    expect(status).toBe(2);
    expect(stderr.trim().split('\n')).toHaveLength(1);
    expect(stderr).toContain(message);
  });
});

describe('drybell export', () => {
  it('writes readings of a probe, whole', async () => {
    const { status, stdout } = await drybell('export', 'readings', ...since, '--probe', 'moist-t1');
    expect(status).toBe(0);
    const rows: Record<string, string>[] = parse(stdout, { columns: true });
    expect(rows.length).toBeGreaterThan(50);
    expect(rows[0]).toEqual({
      at: '2026-04-18T13:00:00Z',
      probe: 'moist-t1',
      rawValue: expect.any(String),
      rawUnit: 'V',
      waterContentM3PerM3: expect.any(String),
      flag: '1',
      flagReasons: '',
      calibrationId: 'cal-1',
    });
  });

  it.each(['forecasts', 'waterings', 'alarms', 'tray-events', 'dry-downs', 'curve-samples', 'notes'])(
    'writes %s as rows as wide as their header',
    async (what) => {
      const { status, stdout } = await drybell('export', what, ...since);
      expect(status).toBe(0);
      expect(parse(stdout, { columns: true }).length).toBeGreaterThan(0);
    },
  );

  it('keeps text with line breaks, quotes and markup as it is, and disarms formulas', async () => {
    const { stdout } = await drybell('export', 'notes', ...since);
    expect(parse(stdout, { columns: true })[0]).toMatchObject({
      text: 'Sown <again>, "thinly",\nin the rain',
    });
    const waterings = parse((await drybell('export', 'waterings', ...since)).stdout, { columns: true });
    expect(waterings[0]).toMatchObject({ by: "'=Mira" });
    expect(csvRow([freeText('-1'), -1, null, true])).toBe("'-1,-1,,true\n");
  });

  it('leaves no half file where it cannot write', async () => {
    const { status, stderr } = await drybell(
      'export',
      'notes',
      ...since,
      '--out',
      join(folder, 'no', 'notes.csv'),
    );
    expect(status).toBe(3);
    expect(stderr).toContain('Cannot write');
  });
});

describe('drybell backup and store-check', () => {
  it('copy the store and find it sound', async () => {
    const target = tempFolder();
    const { status, stdout } = await drybell('backup', '--out', join(target, STORE_FILE));
    expect(status).toBe(0);
    expect(stdout).toContain('checked');
    const review = openSqliteReview({ folder: target });
    const span = { fromMs: NOON_MS - HOUR_MS, toMs: NOON_MS + 3000 * HOUR_MS };
    expect(await review.dryDowns(span)).toHaveLength(36);
    await review.close();
    expect((await drybell('store-check')).stdout).toMatch(/sound\. .* readings/);
  });

  it('a backup takes the store’s place on a new machine, whole, and an older store there is set aside', async () => {
    const machine = tempFolder();
    const store = join(machine, 'data');
    const file = join(machine, 'backup.db');
    expect((await drybell('backup', '--out', file)).status).toBe(0);
    const config = join(machine, 'drybell.json');
    writeFileSync(
      config,
      JSON.stringify({
        farm: 'alder-row',
        benches: [{ id: 'south' }, { id: 'north' }],
        store: { folder: 'data' },
      }),
    );
    expect(await drybell('restore', file, '--config', config)).toMatchObject({ status: 0, stderr: '' });
    const span = { fromMs: NOON_MS - HOUR_MS, toMs: NOON_MS + 3000 * HOUR_MS };
    const review = openSqliteReview({ folder: store });
    expect(await review.dryDowns(span)).toHaveLength(36);
    await review.close();
    const again = await drybell('restore', file, '--config', config);
    expect([again.status, again.stderr]).toEqual([3, expect.stringContaining('a store is there already')]);
    const forced = await drybell('restore', file, '--config', config, '--force');
    expect(forced.status).toBe(0);
    expect((await drybell('store-check', '--config', config)).stdout).toContain('sound.');
    expect(readdirSync(store).filter((name) => name.startsWith('drybell.db.replaced-'))).toHaveLength(1);
  });

  it.each([
    ['no database', 'not a database at all, but text that is long enough to be looked at'],
    ['nothing', ''],
  ])('restore refuses a file that is %s, and leaves the store alone', async (_name, text) => {
    const machine = tempFolder();
    const file = join(machine, 'backup.db');
    writeFileSync(file, text);
    const config = join(machine, 'drybell.json');
    writeFileSync(config, JSON.stringify({ farm: 'a', benches: [{ id: 's' }], store: { folder: 'data' } }));
    const { status, stderr } = await drybell('restore', file, '--config', config);
    expect(status).toBe(3);
    expect(stderr.split('\n')).toHaveLength(2);
    expect(existsSync(join(machine, 'data', STORE_FILE))).toBe(false);
  });

  it('refuse to overwrite, with exit status 3', async () => {
    const { status, stderr } = await drybell('backup', '--out', join(folder, 'drybell.json'));
    expect(status).toBe(3);
    expect(stderr).toContain('there is a file of that name');
  });
});
