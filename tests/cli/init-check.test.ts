import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { farmConfigSchema } from '../../shared/config/farm.js';
import { parseConfig } from '../../src/cli/config/load-config.js';
import { tryParts } from '../../src/cli/kit/trying/try-parts.js';
import { typed } from '../helpers/typed.js';

const folder = mkdtempSync(join(tmpdir(), 'drybell-init-'));

const drybell = (...words: string[]) => typed(words, folder);

afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('drybell init and check', () => {
  it('writes a configuration that fits, and does not write over one that is there', async () => {
    const flags = [
      'init',
      '--yes',
      '--farm',
      'alder-row',
      '--time-zone',
      'Europe/Berlin',
      '--benches',
      'south,north',
    ];
    expect(await drybell(...flags)).toMatchObject({ status: 0 });
    const text = readFileSync(join(folder, 'drybell.jsonc'), 'utf8');
    const farm = parseConfig(text, 'drybell.jsonc');
    expect(farm.benches.map(({ id }) => id)).toEqual(['south', 'north']);
    expect(farm.benches[0]?.temperatureLimitsC).toEqual({ low: 2, high: 38 });
    expect(await drybell(...flags)).toMatchObject({ status: 0, stdout: 'drybell.jsonc stays as it is.\n' });
    expect(readFileSync(join(folder, 'drybell.jsonc'), 'utf8')).toBe(text);
    expect(await drybell('check', '--config-only')).toMatchObject({ status: 0 });
  });

  it('writes nothing when an option does not fit', async () => {
    const wrong = (...flags: string[]) =>
      drybell('init', '--yes', '--out', join(folder, 'wrong.jsonc'), ...flags);
    const cases: [string[], RegExp][] = [
      [['--farm', 'alder row'], /"alder row": expected 1 to 40 letters/],
      [['--rounds', '25:00'], /"25:00": expected a time of day/],
      [['--rounds', '07:00,07:30'], /a notice comes 75 min before its round/],
      [['--time-zone', 'Europe/Belrin'], /Did you mean "Europe\/Berlin"\?/],
      [
        ['--time-zone', 'Europe/Berlin', '--place', '52.1, -75'],
        /the sun is .* off the clock of Europe\/Berlin/,
      ],
      [['--place', 'north'], /expected latitude and longitude/],
      [['--units', 'stones'], /expected metric/],
      [['--limits', '40, 2'], /expected the colder and the hotter limit/],
    ];
    for (const [flags, says] of cases) {
      const { status, stderr: err } = await wrong(...flags);
      expect([flags, status, err.trim().split('\n').length]).toEqual([flags, 2, 1]);
      expect(err).toMatch(says);
    }
    expect(existsSync(join(folder, 'wrong.jsonc'))).toBe(false);
  });

  it('bad input ends with status 2: an unknown command, a missing flag, a configuration that does not fit', async () => {
    expect(await drybell('sprinkle')).toMatchObject({
      status: 2,
      stderr: 'There is no command "sprinkle". drybell help lists them.\n',
    });
    expect((await drybell('replay')).status).toBe(2);
    writeFileSync(join(folder, 'odd.json'), '{ "farm": "alder-row", "bench": [] }');
    const { status, stderr } = await drybell('check', '--config', 'odd.json');
    expect(status).toBe(2);
    expect(stderr).toMatch(/odd.json: line 1, column 24: bench: unknown key/);
    expect(stderr).toMatch(/odd.json: line 1, column 1: benches: is missing/);
    expect((await drybell('--help')).status).toBe(0);
  });

  it('hints at what was mistyped, and tells its version', async () => {
    expect((await drybell('wattered', 'south')).stderr).toMatch(/Did you mean "watered"\?/);
    const version = await drybell('--version');
    expect(version).toMatchObject({ status: 0, stdout: expect.stringMatching(/^\d+\.\d+\.\d+\n$/) });
    expect(await drybell('tray', 'ennd', 't')).toMatchObject({
      status: 2,
      stderr: expect.stringMatching(/no command "ennd" of drybell tray\. Did you mean "end"\?/),
    });
    expect((await drybell('round', 'dnoe')).stderr).toMatch(/Did you mean "done"\?/);
    expect(await drybell('check', '--confg', 'x')).toMatchObject({
      status: 2,
      stderr: expect.stringMatching(/Did you mean --config\?/),
    });
  });

  it('says what works and what to do about what does not', async () => {
    const taken = createServer();
    await new Promise<void>((done) => taken.listen(0, '127.0.0.1', done));
    const address = taken.address();
    const port = typeof address === 'object' && address !== null ? address.port : 0;
    const config = farmConfigSchema.parse({
      farm: 'alder-row',
      benches: [{ id: 'south' }],
      boards: [{ id: 'kit', serialNumber: 'none-such' }],
      messaging: { url: `mqtt://127.0.0.1:1` },
      page: { listenPort: port },
      store: { folder: join(folder, 'no/such/place') },
    });
    const tried = new Map((await tryParts(config)).map((each) => [each.what, each]));
    taken.close();
    expect(tried.get('page')).toMatchObject({
      ok: false,
      sentence: expect.stringMatching(/listens on .* already/),
    });
    expect(tried.get('broker')).toMatchObject({
      ok: false,
      sentence: expect.stringMatching(/nobody listens there; start the broker, or check messaging.url/),
    });
    expect(tried.get('store')?.ok).toBe(false);
    expect(tried.get('board kit')).toMatchObject({
      ok: false,
      sentence: expect.stringMatching(/plugged in/),
    });
  });
});
