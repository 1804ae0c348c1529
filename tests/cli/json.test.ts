import { copyFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import type { Command } from 'commander';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { contractSchemas } from '../../shared/schemas.js';
import { createProgram } from '../../src/cli/run-cli.js';
import { RunningMonitor } from '../helpers/running-monitor.js';
import { typed } from '../helpers/typed.js';

/** Commands that print no document: they run on, ask, or what they print is a text or file of its own kind. */
const NO_DOCUMENT: Readonly<Record<string, string>> = {
  run: 'runs on; its log is JSON',
  demo: 'runs on',
  init: 'asks, and writes the configuration',
  listen: 'runs on, and prints messages as they come',
  review: 'runs on',
  calibrate: 'asks, and writes the configuration',
  export: 'prints CSV or journal text',
  service: 'speaks with systemd',
  completion: 'prints a script',
  manual: 'prints a page',
  password: 'prints a word for the configuration',
  complete: 'is asked by a shell',
};

const program = await createProgram(['manual']);
const leaves = (command: Command, path: readonly string[]): readonly (readonly [string, Command])[] =>
  command.commands.flatMap((one) => {
    const name = [...path, one.name()];
    const below = leaves(one, name);
    return one.options.length === 0 && below.length > 0 ? below : [[name.join(' '), one] as const, ...below];
  });
const commands = leaves(program, []);

/** The schema that a command's help names for what it prints. */
function schemaOf(name: string, args: readonly string[] = []): string | undefined {
  const command = commands.find(([one]) => one === name)?.[1];
  const described = command?.options.find(({ long }) => long === '--json')?.description ?? '';
  const named = [...described.matchAll(/(?:with (--[a-z-]+) )?shared\/schemas\/([a-z-]+)\.schema\.json/g)];
  const special = named.find(([, option]) => option !== undefined && args.includes(option));
  return (special ?? named.find(([, option]) => option === undefined))?.[2];
}

describe('what a command tells as data', () => {
  it.each(commands.map(([name]) => name))('drybell %s names a schema, or prints no document', (name) => {
    const schema = schemaOf(name);
    const isExcused = NO_DOCUMENT[name.split(' ')[0] ?? ''] !== undefined;
    if (schema === undefined) expect(isExcused, 'no --json, and nothing says why').toBe(true);
    else expect(Object.keys(contractSchemas)).toContain(schema);
  });
});

/** Runs a command with --json and holds what it prints to the schema that its help names. */
async function expectDocument(
  name: string,
  args: readonly string[],
  statuses: readonly number[],
  folder?: string,
): Promise<void> {
  const ran = await typed([...name.split(' '), ...args, '--json'], folder);
  expect(statuses, `${name}: ${ran.stderr}`).toContain(ran.status);
  const schema = contractSchemas[schemaOf(name, args) ?? ''];
  expect(schema?.safeParse(JSON.parse(ran.stdout)), ran.stdout).toMatchObject({ success: true });
}

describe('beside a running monitor', () => {
  let monitor: RunningMonitor;
  beforeAll(async () => {
    monitor = await RunningMonitor.start({
      trays: ['celery-1', 'celery-2'].map((id) => ({ id, bench: 'south', blockSideMm: 19, blockCount: 280 })),
    });
  });
  afterAll(() => monitor.stop());

  it.each<[string, readonly string[], readonly number[]]>([
    ['status', [], [0]],
    ['check', [], [0, 1]],
    ['tray list', [], [0]],
    ['alarm', [], [0]],
    ['watered', ['celery-1', 'celery-2'], [0]],
    ['tray sown', ['celery-1', 'celery-2'], [0]],
    ['tray sown', ['celery-1', '--at', '2h', '--ref', 'again-1'], [0]],
    ['note', ['looked at the heater'], [0]],
    ['undo', ['no-such-ref'], [3]],
    ['away', ['5h'], [0]],
    ['back', [], [0]],
    ['alarm seen', [], [3]],
    ['curves', [], [0]],
    ['store-check', [], [0]],
    ['backup', ['--out', 'OUT'], [0]],
  ])('drybell %s %j', async (name, args, statuses) => {
    const out = join(monitor.folder, 'backup.db');
    await expectDocument(
      name,
      [...args.map((word) => (word === 'OUT' ? out : word)), '--config', monitor.config],
      statuses,
    );
  });
});

describe('without a monitor', () => {
  const folder = mkdtempSync(join(tmpdir(), 'drybell-json-'));
  const file = (name: string): string => join(folder, name);
  beforeAll(() => {
    copyFileSync(resolve('shared/examples/alder-row.jsonc'), file('drybell.jsonc'));
    const hours = Array.from({ length: 48 }, (_, hour) =>
      new Date(Date.UTC(2026, 3, 18, hour)).toISOString(),
    );
    writeFileSync(
      file('logger.csv'),
      `time,temp C\n${hours.map((at, i) => `${at},${18 + (i % 7)}`).join('\n')}\n`,
    );
    writeFileSync(
      file('farm.json'),
      JSON.stringify({
        farm: 'alder-row',
        benches: [{ id: 'south' }],
        trays: [{ id: 'celery-1', bench: 'south', blockSideMm: 19, blockCount: 280 }],
        probes: [{ id: 'temp-south', kind: 'air-temperature', bench: 'south' }],
      }),
    );
    writeFileSync(
      file('kit.json'),
      JSON.stringify({
        farm: 'alder-row',
        benches: [{ id: 'south' }],
        boards: [{ id: 'kit', port: file('no-such-port') }],
        probes: [
          {
            id: 'temp-south',
            kind: 'air-temperature',
            bench: 'south',
            hookup: { part: 'ds18b20', w1Id: '28-000000000001' },
          },
          {
            id: 'rh-south',
            kind: 'relative-humidity',
            bench: 'south',
            hookup: { part: 'sht31', board: 'kit' },
          },
        ],
      }),
    );
    writeFileSync(
      file('readings.csv'),
      `time,probe,value\n${hours.map((at, i) => `${at},temp-south,${18 + (i % 7)}`).join('\n')}\nnever,temp-south,1\n`,
    );
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it.each<[string, readonly string[], readonly number[]]>([
    ['estimate', [], [0]],
    ['estimate', ['--night', '12', '--humidity', '100', '--light', '0.1', '--bottom-heat', '20'], [0]],
    ['wiring', ['--out', 'wiring'], [0, 1]],
    [
      'convert',
      ['logger.csv', '--time', 'time', '--value', 'temp C=temp-south', '--out', 'converted.csv'],
      [0],
    ],
    [
      'convert',
      ['logger.csv', '--time', 'temp C', '--value', 'temp C=temp-south', '--zone', 'UTC', '--out', 'no.csv'],
      [1],
    ],
    [
      'replay',
      ['--config', 'farm.json', '--readings', 'readings.csv', '--out', 'results', '--store', 'data'],
      [0],
    ],
    ['backup', ['--config', 'farm.json', '--out', 'backup.db'], [0]],
    ['restore', ['backup.db', '--config', 'farm.json', '--force'], [0]],
    ['look', ['logger.csv'], [0]],
    ['probes', ['--config', 'kit.json'], [1]],
    ['probes', ['--boards'], [0]],
    ['explain', ['celery-1', '--config', 'farm.json'], [0]],
  ])('drybell %s %j', async (name, args, statuses) => {
    await expectDocument(name, args, statuses, folder);
  });
});
