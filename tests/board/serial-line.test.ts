import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readlinkSync, realpathSync, rmSync } from 'node:fs';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, expect, it } from 'vitest';
import { boardSchema } from '../../shared/config/kit/hookup.js';
import { probeSchema } from '../../shared/config/kit/probes.js';
import { openPath, openSerialPort } from '../../src/board/serial/open-serial-port.js';
import { createProbeReader } from '../../src/board/station/probe-reader.js';
import { describeIf } from '../helpers/needs.js';
import { standardFirmata } from './virtual/firmware.js';
import { VirtualUno, voltsForCounts } from './virtual/uno.js';

/** Polls in real time: socat and the kernel's pseudo-terminal know no other. */
async function eventually(holds: () => boolean, limitMs = 20_000): Promise<void> {
  const endMs = performance.now() + limitMs;
  while (!holds()) {
    if (performance.now() > endMs) throw new Error('it did not happen in time');
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

describeIf('socat', 'native serialport through a pseudo-terminal', () => {
  const undo: (() => Promise<void> | void)[] = [];
  afterEach(async () => {
    for (const step of undo.splice(0).reverse()) await step();
  });

  async function pseudoTerminal() {
    const folder = mkdtempSync(join(tmpdir(), 'drybell-pty-'));
    undo.push(() => rmSync(folder, { recursive: true }));
    const port = join(folder, 'ttyBoard');
    const socketPath = join(folder, 'board.sock');
    const socat = spawn('socat', [`PTY,link=${port},raw,echo=0`, `UNIX-LISTEN:${socketPath}`], {
      stdio: 'ignore',
    });
    const ended = new Promise((resolve) => socat.once('exit', resolve));
    undo.push(async () => {
      socat.kill();
      await ended;
    });
    await eventually(() => existsSync(port) && existsSync(socketPath));
    return { port, socketPath, socat, ended };
  }

  it('lets go of the port when the line is closed, or nobody could open it again, and no program would end', async () => {
    const { port, socketPath } = await pseudoTerminal();
    const socket = connect(socketPath);
    undo.push(() => void socket.destroy());
    const target = realpathSync(port);
    const isHeld = (): boolean =>
      readdirSync('/proc/self/fd').some((fd) => {
        try {
          return readlinkSync(`/proc/self/fd/${fd}`) === target;
        } catch {
          // the listing's own, closed by now
          return false;
        }
      });
    for (let time = 0; time < 2; time++) {
      const line = await openPath(port, 57_600);
      line.resume();
      expect(isHeld()).toBe(true);
      const closed = new Promise((resolve) => line.once('close', resolve));
      line.destroy();
      await closed;
      expect(isHeld()).toBe(false);
    }
  });

  it('reads StandardFirmata, notices the lost line, and says so', async () => {
    const { port, socketPath, socat, ended } = await pseudoTerminal();
    const socket = connect(socketPath);
    socket.on('error', () => undefined);
    const uno = new VirtualUno(standardFirmata(), (byte) => socket.write(Buffer.from([byte])));
    uno.analogV = (channel) => voltsForCounts(100 * channel + 11);
    uno.runMs(2_000);
    socket.on('data', (bytes) => uno.receive(bytes));
    let running = true;
    const run = (): void => {
      if (!running) return;
      uno.runMs(2);
      setImmediate(run);
    };
    run();
    undo.push(() => {
      running = false;
      socket.destroy();
    });

    const reader = createProbeReader({
      boards: [boardSchema.parse({ id: 'b1', port })],
      probes: [1, 3].map((channel) =>
        probeSchema.parse({
          id: `moist-t${channel}`,
          kind: 'block-moisture',
          hookup: { part: 'capacitive-moisture', board: 'b1', input: `A${channel}` },
        }),
      ),
      clock: { nowMs: () => 0, monotonicMs: () => 0, sleep: () => Promise.resolve() },
      openTransport: openSerialPort,
      random: () => 0.5,
    });
    undo.push(() => reader.close());
    await eventually(() => reader.health()[0]?.state === 'ready');
    const samples = await reader.sample(new AbortController().signal);
    expect(samples.map(({ counts }) => counts)).toEqual([111, 311]);

    socat.kill();
    await ended;
    const [lost] = await reader.sample(new AbortController().signal);
    expect(lost?.rawValue).toBeUndefined();
    await eventually(() => ['unplugged', 'silent'].includes(reader.health()[0]?.state ?? ''));
  });
});
