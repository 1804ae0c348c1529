import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { type AddressInfo, createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { checkReportSchema } from '../../shared/cli-reports.js';
import { farmConfigSchema } from '../../shared/config/farm.js';
import { farmFindings } from '../../src/cli/config/farm-rules.js';
import { RunningMonitor } from '../helpers/running-monitor.js';
import { typed } from '../helpers/typed.js';

const folder = mkdtempSync(join(tmpdir(), 'drybell-check-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const WINTER_MS = Date.UTC(2026, 0, 15, 12);

describe('what a configuration says that would go wrong', () => {
  const found = (part: object) =>
    farmFindings(
      farmConfigSchema.parse({ farm: 'alder-row', benches: [{ id: 'south' }], ...part }),
      WINTER_MS,
    ).map(({ what, path, sentence }) => `${what} ${path?.join('.')}: ${sentence}`);
  const berlin = { timeZone: 'Europe/Berlin', latitude: 52.1, longitude: 9.9 };
  const auckland = { timeZone: 'Pacific/Auckland', latitude: -36.8, longitude: 174.7 };

  it('is nothing where all fits', () => {
    expect(found({})).toEqual([]);
    expect(found(berlin)).toEqual([]);
    expect(found(auckland)).toEqual([]);
    // zones far from their sun: western China, Iceland, Spain's west
    expect(found({ timeZone: 'Asia/Shanghai', latitude: 39.5, longitude: 76 })).toEqual([]);
    expect(found({ timeZone: 'Atlantic/Reykjavik', latitude: 65, longitude: -22 })).toEqual([]);
    expect(found({ timeZone: 'Europe/Madrid', latitude: 42.9, longitude: -9.2 })).toEqual([]);
    expect(found({ messaging: { url: 'mqtt://farm.lan', user: 'u', password: 'p' } })).toEqual([]);
    expect(found({ page: { listenHost: '0.0.0.0', accessWord: 'a long word' } })).toEqual([]);
  });

  it.each([
    [
      'latitude and longitude swapped',
      { ...auckland, latitude: 174.7 % 90, longitude: -36.8 },
      ['place longitude'],
    ],
    [
      'a zone left at UTC',
      { ...berlin, timeZone: 'UTC', longitude: 13 },
      ['place longitude: at latitude 52.1'],
    ],
    ['a place across the ocean', { ...berlin, longitude: -75 }, ['place longitude: at latitude 52.1']],
    [
      'a latitude with the wrong sign',
      { ...berlin, latitude: -52.1 },
      ['place latitude: Europe/Berlin has its'],
    ],
    ['no round on any day', { rounds: { mon: [] } }, ['rounds rounds: no weekday has a round']],
    [
      'rounds closer than the lead',
      { rounds: ['07:00', '07:30'] },
      ['notices notices.leadMin: a notice comes 75 min'],
    ],
    [
      'quiet hours over all rounds',
      { rounds: ['05:00', '22:30'], notices: { quietHours: { from: '22:00', to: '06:00' } } },
      ['quiet hours notices.quietHours: every round lies in'],
    ],
    [
      'a page for everybody',
      { page: { listenHost: '0.0.0.0' } },
      ['page page.listenHost: on 0.0.0.0 everybody'],
    ],
    [
      'a broker for everybody',
      { messaging: { url: 'mqtts://b.example' } },
      ['broker messaging.url: mqtts://b.ex'],
    ],
    [
      'datagrams from anybody',
      {
        probes: [
          {
            id: 't',
            kind: 'air-temperature',
            bench: 'south',
            hookup: { part: 'delivered', udpPort: 5000, udpHost: '0.0.0.0' },
          },
        ],
      },
      ['probe t probes.0.hookup: whoever reaches its UDP port'],
    ],
    [
      'a password in clear text',
      { messaging: { url: 'mqtt://b.example', user: 'u', password: 'p' } },
      ['broker messaging.url: what is said, and the password, goes to b.example in clear'],
    ],
  ])('finds %s', async (_, part, begins) => {
    const all = found(part);
    expect(all.map((one, i) => one.startsWith(begins[i] ?? '-'))).toEqual(begins.map(() => true));
  });
});

describe('drybell check', () => {
  const check = async (...args: string[]) => {
    const { status, stdout, stderr } = await typed(['check', '--json', ...args]);
    return { status, stderr, report: checkReportSchema.parse(JSON.parse(stdout)) };
  };

  it('says what wiring says, with line and column, and ends with 1', async () => {
    const file = join(folder, 'kit.jsonc');
    writeFileSync(
      file,
      `{ "farm": "alder-row", "benches": [{ "id": "south" }], "page": { "listenHost": "0.0.0.0" },
  "boards": [
    { "id": "kit", "probePower": { "pin": 7 }, "callPost": { "lampPin": 7 } }
  ],
  "probes": [
    { "id": "m1", "kind": "block-moisture", "hookup": { "part": "capacitive-moisture", "board": "kit", "input": "A2" } },
    { "id": "m2", "kind": "block-moisture", "hookup": { "part": "capacitive-moisture", "board": "kit", "input": "A2" } },
    { "id": "t1", "kind": "air-temperature", "bench": "south", "hookup": { "part": "mcp9808", "board": "kit" } },
    { "id": "t2", "kind": "air-temperature", "bench": "south", "hookup": { "part": "mcp9808", "board": "kit" } }
  ] }`,
    );
    const { status, report } = await check('--config-only', '--config', file);
    expect(status).toBe(1);
    const said = report.findings
      .filter(({ ok }) => !ok)
      .map(({ what, line, name, sentence }) => `${line} ${what} ${name}: ${sentence}`);
    expect(said).toEqual([
      expect.stringMatching(/^1 page page.listenHost: on 0.0.0.0 everybody/),
      expect.stringMatching(
        /^7 probe m2 probes\[m2\].hookup.input: pin A2 is wanted by probe m1 and probe m2/,
      ),
      expect.stringMatching(
        /^3 board kit boards\[kit\].callPost.lampPin: pin 7 is wanted by probe power and the call lamp/,
      ),
      expect.stringMatching(/^3 board kit boards\[kit\].probePower.through: pin 7 feeds blades m1 and m2/),
      expect.stringMatching(/^9 probe t2 probes\[t2\].hookup.address: probes t1 and t2 are different parts/),
    ]);
  });

  it('says what would be better, and that is no failure', async () => {
    const file = join(folder, 'better.jsonc');
    writeFileSync(
      file,
      `{ "farm": "alder-row", "benches": [{ "id": "south" }],
  "boards": [{ "id": "kit", "probePower": { "pin": 7, "through": "load-switch" } }],
  "probes": [
    { "id": "m1", "kind": "block-moisture", "hookup": { "part": "capacitive-moisture", "board": "kit", "input": "A1" } },
    { "id": "t1", "kind": "air-temperature", "bench": "south",
      "hookup": { "part": "thermistor", "board": "kit", "input": "A2", "curve": { "resistanceAt25Ohm": 10000, "betaK": 3950 } } }
  ] }`,
    );
    const { status, report } = await check('--config-only', '--config', file);
    expect(status).toBe(0);
    const said = report.findings.map(({ what, better, ok, line }) => ({ what, better, ok, line }));
    expect(said).toEqual([
      { what: 'board kit', better: true, ok: true, line: 2 },
      { what: 'probe t1', better: true, ok: true, line: 5 },
    ]);
    expect((await typed(['check', '--config-only', '--config', file])).stdout).toMatch(
      /better {2}probe t1 {3}water in the plug of this bead .* \(line 5, column 5\)/,
    );
  });

  it('is well beside its own running monitor', async () => {
    const monitor = await RunningMonitor.start({});
    const { report } = await check('--config', monitor.config);
    await monitor.stop();
    const said = report.findings.filter(({ what }) => what !== 'clock');
    expect(said).toEqual([
      expect.objectContaining({
        what: 'broker',
        ok: true,
        sentence: expect.stringMatching(/running monitor's own/),
      }),
      expect.objectContaining({
        what: 'page',
        ok: true,
        sentence: expect.stringMatching(/running monitor serves it/),
      }),
      expect.objectContaining({ what: 'store', ok: true }),
      expect.objectContaining({ what: 'boards', ok: true }),
    ]);
  });

  it('says of a port that another program has that it is taken', async () => {
    const other = createServer();
    await new Promise<void>((listening) => other.listen(0, '127.0.0.1', listening));
    const file = join(folder, 'taken.json');
    writeFileSync(
      file,
      JSON.stringify({
        farm: 'alder-row',
        benches: [{ id: 'south' }],
        messaging: { listenPort: 0 },
        page: { listenPort: (other.address() as AddressInfo).port },
        store: { folder: join(folder, 'taken-data') },
      }),
    );
    const { status, report } = await check('--config', file);
    await new Promise((closed) => other.close(closed));
    expect(report.findings.find(({ what }) => what === 'page')).toMatchObject({
      ok: false,
      name: 'page.listenPort',
      sentence: expect.stringMatching(/something listens on .* already/),
    });
    expect(status).toBe(1);
  });
});
