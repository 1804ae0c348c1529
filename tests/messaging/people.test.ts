import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { createInterface } from 'node:readline';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { heardReportSchema } from '../../shared/cli-reports.js';
import { messagingSchema } from '../../shared/config/messaging.js';
import type { TrayLine } from '../../shared/facts/tray-line.js';
import type { Command } from '../../shared/wire/command.js';
import { createPublisher } from '../../src/messaging/publisher.js';
import type { Publisher } from '../../src/monitor/ports/ports.js';
import { typed } from '../helpers/typed.js';
import { alarmFact, callFact, forecastFact, START_MS } from './facts.js';
import { freePort } from './free-port.js';
import { quietLog } from './quiet-log.js';

/** Two trays on two benches. */
const HOUSE: TrayLine[] = [
  { id: 't1', bench: 'south', blockSideMm: 19, blockCount: 280, cover: 'film', probes: [] },
  { id: 't2', bench: 'north', blockSideMm: 38, blockCount: 72, cover: 'none', probes: [] },
];

let publisher: Publisher;
let folder: string;
let told: Command[] = [];
/** What the monitor answers to "list-trays". */
let standing: TrayLine[] = [];

async function openDemo(farm = 'alder-row'): Promise<Publisher> {
  const opened = await createPublisher({
    farm,
    config: messagingSchema.parse({ listenPort: 0 }),
    drive: 'demo',
    timeZone: 'Europe/Berlin',
    nowMs: () => START_MS,
    log: quietLog,
  });
  opened.onCommand((command, ref) => {
    if (command.do !== 'list-trays') told.push(command);
    const refused = 'tray' in command && command.tray === 'nosuch';
    const answer = refused
      ? { ok: false, code: 'unknown-tray', sentence: 'There is no tray "nosuch".' }
      : {
          ok: true,
          code: 'done',
          sentence: `Noted: ${command.do}.`,
          ...(command.do === 'list-trays' ? { trays: standing } : {}),
        };
    void opened.tell([{ kind: 'answer', answer: { ref, at: '2026-04-18T05:00:00Z', ...answer } }]);
  });
  return opened;
}

/** The farm by its name: finding it at a broker that may have several takes a quarter of a second. */
const here = (): readonly string[] => ['--broker', publisher.address(), '--farm', 'alder-row'];

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'drybell-people-'));
  publisher = await openDemo();
  await publisher.tell([forecastFact('t1'), alarmFact('t1', 'unacknowledged'), alarmFact('t2', 'normal')]);
});

afterAll(async () => {
  await publisher.close();
  rmSync(folder, { recursive: true, force: true });
});

beforeEach(() => {
  standing = HOUSE;
  told = [];
});

describe("people's commands on the command line", () => {
  it.each<[string, object]>([
    ['watered t1 --ml 400 --by anna', { do: 'watered', tray: 't1', ml: 400, by: 'anna' }],
    ['watered --bench south --at 06:30', { do: 'watered', tray: 't1', at: '2026-04-18T04:30:00Z' }],
    ['watered --side mini', { do: 'watered', tray: 't1' }],
    ['watered mini north', { do: 'watered', trays: ['t1', 't2'] }],
    ['round done', { do: 'round-done', except: [] }],
    ['round done --except t2', { do: 'round-done', except: ['t2'] }],
    ['round done --except north,t1', { do: 'round-done', except: ['t1', 't2'] }],
    [
      'tray new t5 --bench south --side 38 --crop leek --sown 2h',
      {
        do: 'new-tray',
        tray: 't5',
        bench: 'south',
        blockSideMm: 38,
        crop: 'leek',
        sownAt: '2026-04-18T03:00:00Z',
      },
    ],
    ['tray pot-on t1 t9 --side 51', { do: 'pot-on', tray: 't1', toTray: 't9', blockSideMm: 51 }],
    [
      'tray new t6 --bench south --side 2in --count 50 --channel-depth 9 --refill-point 0.35 --germinated 2h',
      {
        do: 'new-tray',
        tray: 't6',
        bench: 'south',
        blockSideMm: 50.8,
        blockCount: 50,
        channelDepthMm: 9,
        refillPointM3PerM3: 0.35,
        germinatedAt: '2026-04-18T03:00:00Z',
      },
    ],
    ['watered t1 --fl-oz 14', { do: 'watered', tray: 't1', ml: 414 }],
    ['watered t1 10 fl oz', { do: 'watered', tray: 't1', ml: 296 }],
    ['watered t1 0,4 L', { do: 'watered', tray: 't1', ml: 400 }],
    ['watered mini north 400mL', { do: 'watered', trays: ['t1', 't2'], ml: 400 }],
    ['tray weighed t1 2.14 kg', { do: 'weighed', tray: 't1', grams: 2140 }],
    ['tray weighed t1 4 lb 11 oz', { do: 'weighed', tray: 't1', grams: 2126.2 }],
    [
      'tray new t7 --bench south --side 1.5in --channel-depth 3/8in --tray-area 46x36cm',
      {
        do: 'new-tray',
        tray: 't7',
        bench: 'south',
        blockSideMm: 38.1,
        channelDepthMm: 9.525,
        trayAreaM2: 0.1656,
      },
    ],
    ['tray uncover t1', { do: 'cover', tray: 't1', cover: 'none' }],
    ['tray move t1 north', { do: 'move', tray: 't1', bench: 'north' }],
    ['tray looked t1 3', { do: 'looked', tray: 't1', level: 3 }],
    ['tray weighed t1 2140.5', { do: 'weighed', tray: 't1', grams: 2140.5 }],
    ['tray attach t1 moist-1', { do: 'attach', tray: 't1', probe: 'moist-1' }],
    ['tray end t1 --ref bye-t1', { do: 'end', tray: 't1', ref: 'bye-t1' }],
    ['alarm seen t1 refill', { do: 'acknowledge', of: 't1', kind: 'refill' }],
    [
      'alarm later t1 refill --until 21:00',
      { do: 'shelve', of: 't1', kind: 'refill', until: '2026-04-18T19:00:00Z' },
    ],
    ['alarm off moist-1 probe', { do: 'out-of-service', of: 'moist-1', kind: 'probe' }],
    ['away 06:30', { do: 'away', until: '2026-04-19T04:30:00Z' }],
    ['note aphids on the leeks --tray t1', { do: 'note', text: 'aphids on the leeks', tray: 't1' }],
    ['undo bye-t1', { do: 'undo', undo: 'bye-t1' }],
  ])('drybell %s', async (line, command) => {
    const result = await typed([...line.split(' '), ...here()]);
    expect(result).toMatchObject({ stderr: '', status: 0 });
    expect(result.stdout).toContain(`Noted: ${(command as Command).do}.`);
    expect(told).toEqual([command]);
  });

  it.each(['foo', '127.0.0.1:1883', 'http://127.0.0.1:1883'])('--broker %s is no broker', async (broker) => {
    const { stderr: err, status } = await typed(['watered', 't1', '--broker', broker], folder);
    expect(err).toContain('Expected a URL such as "mqtt://127.0.0.1:1883".');
    expect(status).toBe(2);
  });

  it('prints why a command was refused, exit status 3', async () => {
    const result = await typed(['tray', 'weighed', 'nosuch', '2140', ...here()]);
    expect(result).toEqual({ stdout: '', stderr: 'There is no tray "nosuch".\n', status: 3 });
  });

  it.each([
    ['tray looked t1 9', 'level: expected a whole number from 1 (dry) to 5 (saturated)'],
    ['tray new t5 --side 38', '--bench is missing'],
    ['tray new t5 --bench south', '--side is missing'],
    [
      'tray new t5 --bench south --side 400',
      '--side "400": expected "mini", a side of 10 to 300 mm such as 38',
    ],
    ['tray new t5 --bench south --side 38 --cover tent', '--cover: expected one of none, film, loose-dome'],
    ['tray cover t1 tent', ' cover: expected one of none, film, loose-dome'],
    ['tray move t1 south/2', ' bench: expected 1 to 40 letters'],
    ['alarm off t1 refil', ' kind: expected one of refill, dry'],
    ['tray weighed t1 heavy', 'weight "heavy": expected a weight such as 2140 g'],
    ['watered t1 400', 'If it is an amount, give its unit: 400 mL'],
    ['watered t1 400 mL --ml 300', 'Say the amount once'],
    ['away tomorrow', '"tomorrow" is not a time to come: expected for example "21:00"'],
    ['watered', 'Which trays?'],
    ['round done --except nort', '"nort" is no tray, bench, crop or block size that stands here'],
    ['watered --side big', '"big" is no tray, bench, crop or block size that stands here'],
    ['tray germinated t11', 'Did you mean "t1"?'],
    ['watered t1 --ml 400 --fl-oz 14', 'Say the amount once'],
    ['round --config none.jsonc', 'none.jsonc'],
  ])('says what was mistyped in "drybell %s", exit status 2, nothing sent', async (line, problem) => {
    const result = await typed([...line.split(' '), ...here()]);
    expect(result.stderr).toContain(problem);
    expect(result.status).toBe(2);
    expect(told).toEqual([]);
  });

  it('takes back what was told of some trays when it is refused for another', async () => {
    standing = [...HOUSE, { ...(HOUSE[0] as TrayLine), id: 'nosuch' }];
    const result = await typed(['tray', 'uncover', 'south', '--ref', 'all', ...here()]);
    expect(result).toMatchObject({ stderr: 'There is no tray "nosuch".\n', status: 3 });
    expect(told.map((command) => [command.do, 'undo' in command ? command.undo : command.ref])).toEqual([
      ['cover', 'all-1'],
      ['cover', 'all-2'],
      ['undo', 'all-1'],
    ]);
  });

  it('lists what is not in order, in plain words', async () => {
    const { stdout: out, status } = await typed(['alarm', '--broker', publisher.address()]);
    expect(status).toBe(1);
    expect(out).toMatch(/Sat 07:00 {2}.*CALL.* t1 refill/);
    expect(out).not.toContain('t2');
    const all = await typed(['alarm', '--all', ...here()]);
    expect(all.stdout).toMatch(/done.* t2 refill/);
  });

  it('finds the broker and the farm in the configuration', async () => {
    const port = Number(new URL(publisher.address()).port);
    const farm = { farm: 'alder-row', benches: [{ id: 'south' }], messaging: { listenPort: port } };
    writeFileSync(join(folder, 'drybell.json'), JSON.stringify(farm));
    const result = await typed(['back'], folder);
    rmSync(join(folder, 'drybell.json'));
    expect(result).toMatchObject({ stderr: '', status: 0 });
  });

  it('says what to do when no monitor answers, or another farm does', async () => {
    const nobody = await typed(['round', '--broker', `mqtt://127.0.0.1:${await freePort()}`], folder);
    expect(nobody.status).toBe(3);
    expect(nobody.stderr).toContain('nobody listens there');
    expect(nobody.stderr).toContain('"drybell run"');
    const other = await typed(['round', '--farm', 'birch-row', '--broker', publisher.address()]);
    expect(other.stderr).toContain('knows no farm "birch-row"');
    expect(other.status).toBe(3);
  });

  it('prints the notice on one page, boxes to tick, in the time zone of the farm', async () => {
    const early = await typed(['round', ...here()]);
    expect(early.stderr).toContain('has no notice yet');
    await publisher.tell([
      {
        kind: 'round-notice',
        notice: {
          at: '2026-04-18T14:45:00Z',
          round: '2026-04-18T16:00:00Z',
          due: [
            {
              tray: 't1',
              doseMl: 640,
              bench: 'south',
              crop: 'celery',
              blockSideMm: 19,
              hoursToRefill: { p10: 6.1, p50: 8, p90: 11.2 },
              pourPlan: { pours: 2, pourMl: 320, soakMin: 12 },
              perhapsWatered: true,
            },
          ],
          canWait: [{ tray: 't2', untilRound: '2026-04-19T05:00:00Z' }],
          sentence: 'Bench south, 18:00 round: water 1 tray.',
        },
      },
    ]);
    const { stdout: out, status } = await typed(['round', ...here()]);
    expect(status).toBe(0);
    expect(
      out
        .split('\n')
        .slice(0, 10)
        .map((line) => line.trim().replace(/ {3,}/, '  ')),
    ).toEqual([
      'Round at 18:00  alder-row, as of 16:45',
      '─'.repeat(78),
      'Water, most urgent first',
      '□ t1  celery, minis  bench south',
      '640 mL in 2 pours of 320 mL, 12 min apart',
      'has 8.0 h (6.1 to 11)',
      'Perhaps watered already, nobody said: look before pouring.',
      '',
      'Can wait',
      't2  until tomorrow 07:00',
    ]);
    const json = await typed(['round', '--json', ...here()]);
    expect(JSON.parse(json.stdout)).toMatchObject({ due: [{ tray: 't1' }] });
  });

  it('lists the trays bench by bench, one line each, in the units and the time zone of the farm', async () => {
    standing = [
      {
        id: 'celery-1',
        bench: 'south',
        blockSideMm: 19,
        blockCount: 280,
        crop: 'celery',
        cover: 'none',
        sownAt: '2026-04-02T08:00:00Z',
        germinatedAt: '2026-04-11T22:30:00Z',
        probes: ['moist-celery'],
        lastWateredAt: '2026-04-18T04:10:00Z',
        moistureIndex: 0.62,
        hoursToRefill: { p10: 7.1, p50: 9, p90: 12.2 },
      },
      {
        id: 'leek-1',
        bench: 'north',
        blockSideMm: 38,
        blockCount: 72,
        cover: 'loose-dome',
        sownAt: '2026-04-16T08:00:00Z',
        probes: [],
      },
    ];
    const { stdout: out, status } = await typed(['tray', ...here()]);
    expect(status).toBe(0);
    expect(out).toBe(`\
  tray      blocks              crop    cover       probe         germinated  last watered  has until refill
bench south
  celery-1  280 minis           celery  -           moist-celery  12 Apr      06:10         ■■■■■■···· 9.0 h (7.1 to 12)
bench north
  leek-1    72 blocks of 38 mm  -       loose-dome  -             not yet     -             no forecast yet
`);
    const json = await typed(['tray', 'list', '--json', ...here()]);
    expect(JSON.parse(json.stdout)).toEqual(standing);
    standing = [];
    const empty = await typed(['tray', 'list', ...here()]);
    expect(empty.stdout).toContain('drybell tray new');
  });

  it('a list of trays needs a monitor that answers, and says so', async () => {
    const nobody = await typed(['tray', 'list', '--broker', `mqtt://127.0.0.1:${await freePort()}`]);
    expect(nobody).toMatchObject({ stdout: '', status: 3 });
    expect(nobody.stderr).toContain('nobody listens there');
  });

  it.each([
    'away 21:00 --at 14:30',
    'back --at 14:30',
    'alarm later t1 refill --until 21:00 --at 14:30',
    'alarm seen --at 14:30',
    'call --seen --at 14:30',
    'undo bye-t1 --at 14:30',
  ])('"drybell %s" is refused: it counts from the moment it is told', async (line) => {
    const { status, stderr } = await typed([...line.split(' '), ...here()]);
    expect(stderr).toContain('There is no option --at.');
    expect(status).toBe(2);
    expect(told).toEqual([]);
  });

  it('listen prints sentences as they come, or data, and says so when the monitor goes', async () => {
    const farm = await openDemo('birch-row');
    const listening = (...more: readonly string[]) => {
      const words = [resolve('dist/src/cli/main.js'), 'listen', '--broker', farm.address(), ...more];
      const child = spawn(process.execPath, words);
      const lines: string[] = [];
      createInterface({ input: child.stdout }).on('line', (line) => lines.push(line));
      return { lines, ended: once(child, 'close') };
    };
    const [said, data] = [listening(), listening('--json')];
    // The subscriptions may still be on their way: say it until it is heard.
    while (said.lines.length < 2 || data.lines.length === 0) {
      await farm.tell([callFact(['t1'], 'Tray t1 will not last until 18:00.')]);
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
    expect(said.lines[0]).toContain('Listening to birch-row');
    expect(said.lines[1]).toMatch(/^\d\d:\d\d {2}Tray t1 will not last until 18:00\.$/);
    await farm.close();
    expect((await said.ended)[0]).toBe(3);
    expect((await data.ended)[0]).toBe(3);
    expect(said.lines.join('\n')).toContain('The monitor was stopped.');
    const heard = data.lines.map((line) => heardReportSchema.parse(JSON.parse(line)));
    expect(heard[0]).toMatchObject({ say: 'Tray t1 will not last until 18:00.' });
    expect(heard.at(-1)).toMatchObject({ online: false, sentence: 'The monitor was stopped.' });
  });
});
