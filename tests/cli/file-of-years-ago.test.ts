import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { typed } from '../helpers/typed.js';

const folder = mkdtempSync(join(tmpdir(), 'drybell-years-ago-'));
const bench = join(folder, 'bench');
const config = join(bench, 'drybell.jsonc');

/** A logger's file of 2019, played into a store that is gone on with years later. */
beforeAll(async () => {
  const text = readFileSync(resolve('tests/look/files/01-iso-utc.csv'), 'utf8');
  const file = join(folder, 'logger.csv');
  writeFileSync(file, text.replaceAll('2026-', '2019-'));
  const { status, stdout: out } = await typed(['look', file, '--no-page', '--keep', bench]);
  expect(status).toBe(0);
  expect(out).toContain('blocks of 38 mm are taken');
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('on a store of years ago, no time named', () => {
  it.each([
    [['curves'], '38 mm'],
    [['journal'], 'Apr 2019'],
    [['export', 'waterings'], '2019-04-'],
    [['export', 'readings'], '2019-04-16T05:00:00Z'],
  ])('drybell %j finds what there is', async (words, found) => {
    const { status, stdout: out } = await typed(words, bench);
    expect(status).toBe(0);
    expect(out).toContain(found);
  });

  it('says no table of nothing, and refuses a bench or crop that nobody knows', async () => {
    const later = await typed(['curves', '--since', '2020-01-01'], bench);
    expect(later).toMatchObject({
      status: 0,
      stdout: '',
      stderr: expect.stringContaining('No dry-down ended'),
    });
    expect(await typed(['curves', '--bench', 'onee'], bench)).toMatchObject({
      status: 2,
      stderr: expect.stringContaining('Did you mean "one"?'),
    });
    expect(await typed(['curves', '--crop', 'celery'], bench)).toMatchObject({
      status: 2,
      stderr: '--crop "celery": nothing of that name in this time. There are: none.\n',
    });
  });

  it('explains a tray on the clock of the farm with the year, and refuses one that is not there', async () => {
    const { stdout: out } = await typed(['explain', 'tray-1'], bench);
    expect(out).toMatch(/What is believed of tray-1, .*19 Apr 2019/);
    expect(out).toMatch(/last pour detected .*Apr 2019/);
    expect(out).not.toContain('T05:');
    expect(await typed(['explain', 'tray-2'], bench)).toMatchObject({
      status: 2,
      stderr: expect.stringContaining('Did you mean "tray-1"? Trays: tray-1.'),
    });
  });

  it('says in check that nothing reads the probes', async () => {
    const { stdout: out } = await typed(['check', '--config', config, '--config-only'], bench);
    expect(out).toMatch(/better {2}probes +nothing says how air-temperature, .* are read: add a "hookup"/);
  });
});
