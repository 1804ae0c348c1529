import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { parseConfig } from '../../src/cli/config/load-config.js';
import type { FirstFarm } from '../../src/cli/config/write-config.js';
import { changedText, newText } from '../../src/cli/kit/first-farm/farm-text.js';
import { findKit, type KitPlaces } from '../../src/cli/kit/first-farm/find-kit.js';
import { interview } from '../../src/cli/kit/first-farm/interview.js';
import { kitQuestions } from '../../src/cli/kit/first-farm/kit-questions.js';
import { questions } from '../../src/cli/kit/first-farm/questions.js';
import { BOARD_PINS } from '../../src/worlds/demo/virtual-board/board-pins.js';
import { createSht31Part } from '../../src/worlds/demo/virtual-board/sht31-part.js';
import { createVirtualBoard } from '../../src/worlds/demo/virtual-board/virtual-board.js';

const folder = mkdtempSync(join(tmpdir(), 'drybell-finds-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
mkdirSync(join(folder, '28-0316a2795bff'));

const farm: FirstFarm = {
  farm: 'alder-row',
  timeZone: 'Europe/Berlin',
  rounds: ['07:00', '18:00'],
  language: 'en',
  units: { volume: 'mL', temperature: 'C', length: 'mm', weight: 'g' },
  benches: ['south', 'north'],
  boards: [],
  probes: [],
};
const air = () => ({ temperatureC: 21.5, relativeHumidityPct: 60 });

/** A machine with one board on it, with two air probes and nothing else, and one 1-Wire probe of its own. */
const places: KitPlaces = {
  ports: async () => [{ path: '/dev/ttyACM0', serialNumber: 'A50285BI' }],
  clock: {
    nowMs: () => Date.now(),
    monotonicMs: () => performance.now(),
    sleep: (ms) => new Promise((resolve) => setTimeout(resolve, Math.min(ms, 20))),
  },
  random: () => 0.5,
  w1Folder: folder,
  openTransport: async () =>
    createVirtualBoard({
      pins: BOARD_PINS.uno,
      supplyVolts: () => 5,
      i2cParts: [createSht31Part(0x44, air), createSht31Part(0x45, air)],
      analogVolts: () => 0,
    }),
};

describe('what init finds and proposes', () => {
  it('is the board with its number, the parts that answer on it, and the kernel’s own 1-Wire probes', async () => {
    const kit = await findKit(places);
    expect(kit.boards).toMatchObject([
      {
        board: { id: 'board-1', serialNumber: 'A50285BI' },
        parts: [{ name: 'sht31 at 0x44' }, { name: 'sht31 at 0x45' }],
      },
    ]);
    expect(kit.own).toMatchObject([{ hookup: { part: 'ds18b20', w1Id: '28-0316a2795bff' } }]);
  });

  const session = async (
    target: ReturnType<typeof newText>,
    answers: readonly string[],
    known?: ReturnType<typeof parseConfig>,
  ) => {
    const asked: string[] = [];
    const waiting = [...answers];
    const { farm: answered } = await interview({
      file: join(folder, 'drybell.jsonc'),
      target,
      given: {},
      draft: {},
      nowMs: 0,
      dialogue: {
        say: () => undefined,
        ask: async (question) => {
          asked.push(question);
          return waiting.shift() ?? '';
        },
      },
      kit: async () => kitQuestions(await findKit(places, known), new Set(known?.probes.map(({ id }) => id))),
    });
    return { asked: asked.slice(questions.length), text: target.write(answered ?? farm) };
  };

  it('goes to the benches in turn, each as somebody says, into a configuration that fits', async () => {
    const { asked, text } = await session(newText(farm), []);
    expect(asked).toEqual([
      'A board is plugged in (A50285BI); use it [yes] ',
      'sht31 at 0x44 answers; on which bench is it (south, north, or none) [south] ',
      'sht31 at 0x45 answers; on which bench is it (south, north, or none) [north] ',
      'ds18b20 28-0316a2795bff answers; on which bench is it (south, north, or none) [south] ',
    ]);
    const { boards, probes } = parseConfig(text, 'drybell.jsonc');
    expect(boards).toMatchObject([{ id: 'board-1', model: 'uno', serialNumber: 'A50285BI' }]);
    expect(probes.map(({ id, hookup }) => [id, hookup])).toMatchObject([
      ['temp-south', { part: 'sht31', address: '0x44', board: 'board-1' }],
      ['rh-south', { part: 'sht31', address: '0x44' }],
      ['temp-north', { part: 'sht31', address: '0x45' }],
      ['rh-north', { part: 'sht31', address: '0x45' }],
      ['temp-south-2', { part: 'ds18b20', w1Id: '28-0316a2795bff' }],
    ]);
  });

  it('is left out where it is not wanted, and asks nothing of a board that is not used', async () => {
    const { asked, text } = await session(newText(farm), [...questions.map(() => ''), 'no', 'none']);
    expect(asked).toHaveLength(2);
    expect(parseConfig(text, 'drybell.jsonc')).toMatchObject({ boards: [], probes: [] });
  });

  it('is added to a configuration that is there, once, beside its comments', async () => {
    const there = `{
  // our farm
  "farm": "alder-row", "timeZone": "Europe/Berlin",
  "benches": [{ "id": "south" }], // one
  "boards": [
    // { "id": "to come" }
  ],
  "probes": [
    { "id": "temp-south", "kind": "air-temperature", "bench": "south" } // by hand
  ]
}
`;
    const { text } = await session(
      changedText(there, 'drybell.jsonc'),
      [],
      parseConfig(there, 'drybell.jsonc'),
    );
    for (const comment of ['// our farm', '// one', '// { "id": "to come" }', '// by hand'])
      expect(text).toContain(comment);
    const config = parseConfig(text, 'drybell.jsonc');
    expect(config.probes.map(({ id }) => id)).toEqual([
      'temp-south',
      'temp-south-2',
      'rh-south',
      'temp-south-3',
      'rh-south-2',
      'temp-south-4',
    ]);
    const again = await session(changedText(text, 'drybell.jsonc'), [], config);
    expect(again.asked).toEqual([]);
    expect(again.text).toBe(text);
  });
});
