import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { boardSchema } from '../../shared/config/kit/hookup.js';
import { probeSchema } from '../../shared/config/kit/probes.js';
import { BoardOpenError } from '../../src/board/serial/open-error.js';
import { createProbeReader } from '../../src/board/station/probe-reader.js';
import { tryCallPost } from '../../src/cli/kit/watching/try-call-post.js';
import { standardFirmata } from './virtual/firmware.js';
import { buildRig, readyRig } from './virtual/rig.js';
import { VirtualUno, voltsForCounts } from './virtual/uno.js';
import { PluggedUno } from './virtual/usb-cable.js';
import { VirtualTime } from './virtual/virtual-time.js';

const moisture = (id: string, board: string) =>
  probeSchema.parse({
    id,
    kind: 'block-moisture',
    hookup: { part: 'capacitive-moisture', board, input: 'A0' },
  });

it('one board that is gone leaves the other one alone', async () => {
  const time = new VirtualTime();
  const second = new VirtualUno(standardFirmata());
  second.runMs(2_000);
  const plugged = new Map([
    ['b1', new PluggedUno(time)],
    ['b2', new PluggedUno(time, second)],
  ]);
  const reader = createProbeReader({
    boards: ['b1', 'b2'].map((id) => boardSchema.parse({ id, probePower: { pin: 7, settleMs: 10 } })),
    probes: [moisture('m1', 'b1'), moisture('m2', 'b2')],
    clock: time,
    ioClock: time,
    openTransport: async ({ id }) => {
      const board = plugged.get(id);
      if (board?.plugged !== true) throw new BoardOpenError('BOARD_NOT_FOUND', 'no board is plugged in');
      return board.open();
    },
    random: () => 0,
  });
  for (const [index, board] of [...plugged.values()].entries())
    board.uno.analogV = () => voltsForCounts(board.uno.isHigh(7) ? 100 * (index + 1) : 0);
  await time.advance(5_000);
  const counts = async () => {
    const samples = await time.until(reader.sample(new AbortController().signal));
    return Object.fromEntries(samples.map(({ probeId, counts: seen, reason }) => [probeId, seen ?? reason]));
  };
  expect(await counts()).toEqual({ m1: 100, m2: 200 });
  plugged.get('b1')?.unplug();
  await time.advance(1_000);
  expect(await counts()).toEqual({ m1: expect.stringContaining('unplugged'), m2: 200 });
  expect(reader.health().map(({ state }) => state)).toEqual(['unplugged', 'ready']);
  await time.until(reader.close());
});

it('reads DS18B20 from the files of the kernel, without a board', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'drybell-w1-'));
  mkdirSync(join(folder, '28-0316a2795bff'));
  writeFileSync(
    join(folder, '28-0316a2795bff', 'w1_slave'),
    '91 01 4b 46 7f ff 0f 10 25 : crc=25 YES\n91 01 4b 46 7f ff 0f 10 25 t=25062\n',
  );
  const probe = (id: string, w1Id: string) =>
    probeSchema.parse({ id, kind: 'air-temperature', bench: 'south', hookup: { part: 'ds18b20', w1Id } });
  const reader = createProbeReader({
    boards: [],
    probes: [probe('temp-south', '28-0316a2795bff'), probe('temp-gone', '28-000000000000')],
    clock: { nowMs: () => 77, monotonicMs: () => 0, sleep: () => Promise.resolve() },
    // The files are real, so no virtual time limit may race with the disk: this one never comes.
    ioClock: { nowMs: () => 0, monotonicMs: () => 0, sleep: () => new Promise(() => undefined) },
    openTransport: () => Promise.reject(new BoardOpenError('BOARD_NOT_FOUND', 'there is no board')),
    random: () => 0,
    w1Folder: folder,
  });
  expect(await reader.sample(new AbortController().signal)).toEqual([
    { probeId: 'temp-south', observedAtMs: 77, rawValue: 25.0625 },
    {
      probeId: 'temp-gone',
      observedAtMs: 77,
      rawValue: undefined,
      reason: expect.stringContaining('there is no 1-Wire probe "28-000000000000"'),
    },
  ]);
  await reader.close();
  rmSync(folder, { recursive: true });
});

it('lamp and button can be tried without a call', async () => {
  const rig = await readyRig({ board: { callPost: { lampPin: 8, buttonPin: 12 } } });
  const said: string[] = [];
  rig.plugged.uno.setInput(12, true);
  rig.time.stir(100);
  await rig.time.advance(200);
  const trial = tryCallPost(rig.reader, rig.time, (text) => said.push(text), new AbortController().signal);
  await rig.time.advance(100);
  expect(rig.plugged.uno.isHigh(8)).toBe(true);
  rig.plugged.uno.setInput(12, false);
  rig.time.stir(100);
  await rig.time.until(trial);
  await rig.time.advance(20);
  expect(said.at(-1)).toBe('The button on board b1 works.');
  expect(rig.plugged.uno.isHigh(8)).toBe(false);
  await rig.close();
});

it('lamp and button that no board can try are not said to be on', async () => {
  const rig = buildRig({ failToOpen: new BoardOpenError('BOARD_NOT_FOUND', 'there is no board') });
  await rig.time.advance(3_000);
  const said: string[] = [];
  await tryCallPost(rig.reader, rig.time, (text) => said.push(text), new AbortController().signal);
  expect(said.at(-1)).toBe('No board answers, so lamp, buzzer and button were not tried.');
  await rig.close();
});

it('a port that may not be opened is told with the group to join', async () => {
  const rig = buildRig({
    failToOpen: new BoardOpenError('PORT_DENIED', 'this user may not open /dev/ttyACM0; join group dialout'),
  });
  await rig.time.advance(3_000);
  expect(rig.state()).toBe('no-board');
  expect(rig.sentence()).toContain('join group dialout');
  await rig.close();
});
