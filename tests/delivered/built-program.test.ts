import { spawn } from 'node:child_process';
import { createSocket } from 'node:dgram';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, expect, it } from 'vitest';
import { describeIf } from '../helpers/needs.js';
import { drybell, freePort, RunningMonitor } from '../helpers/running-monitor.js';
import { type Listener, listener } from '../messaging/listener.js';

const undo: (() => Promise<void> | void)[] = [];
afterEach(async () => {
  for (const step of undo.splice(0).reverse()) await step();
});

/** A node at the far end of a serial cable: socat's pseudo-terminal, written to through a socket. */
async function serialNode(): Promise<{ port: string; say: (line: string) => void }> {
  const folder = mkdtempSync(join(tmpdir(), 'drybell-node-'));
  undo.push(() => rmSync(folder, { recursive: true, force: true }));
  const [port, socketPath] = [join(folder, 'ttyNode'), join(folder, 'node.sock')];
  const socat = spawn('socat', [`PTY,link=${port},raw,echo=0`, `UNIX-LISTEN:${socketPath}`], {
    stdio: 'ignore',
  });
  const ended = new Promise((resolve) => socat.once('exit', resolve));
  undo.push(async () => {
    socat.kill();
    await ended;
  });
  await expect.poll(() => existsSync(port) && existsSync(socketPath), { timeout: 20_000 }).toBe(true);
  const socket = connect(socketPath);
  socket.on('error', () => undefined);
  undo.push(() => void socket.destroy());
  return { port, say: (line) => socket.write(`${line}\r\n`) };
}

describeIf('socat', 'probes that are delivered to the running program', () => {
  it('by serial line, through a pseudo-terminal, and by UDP, and told apart by their node', async () => {
    const serial = await serialNode();
    const udpPort = await freePort();
    const by = (way: object, path: string, unit: string) => ({
      hookup: { part: 'delivered', ...way, path, unit, staleAfterS: 720, batteryPath: '/bat' },
    });
    const line = { serialPort: serial.port, baud: 115_200 };
    const monitor = await RunningMonitor.start({
      cadenceS: 1,
      probes: [
        { id: 'temp-south', kind: 'air-temperature', bench: 'south', ...by({ udpPort }, '/t', 'Cel') },
        {
          id: 'm1',
          kind: 'block-moisture',
          ...by({ ...line, where: { '/node': 'n1' } }, '/mv', 'mV'),
        },
        {
          id: 'm2',
          kind: 'block-moisture',
          ...by({ ...line, where: { '/node': 'n2' } }, '/mv', 'mV'),
        },
      ],
    });
    undo.push(() => monitor.stop());
    const { messaging } = JSON.parse(readFileSync(monitor.config, 'utf8'));
    const phone = await listener(`mqtt://127.0.0.1:${messaging.listenPort}`, ['drybell/alder-row/reading/#']);
    undo.push(() => phone.close());
    const udp = createSocket('udp4');
    undo.push(() => void udp.close());
    // a node says the same again and again; no single word need arrive
    const nodes = setInterval(() => {
      udp.send('{"t": 21.25, "bat": 3.9}\n', udpPort, '127.0.0.1');
      serial.say('{"node": "n1", "mv": 1735}');
      serial.say('{"node": "n2", "mv": 2010}');
      serial.say('# boot noise, no JSON');
    }, 200);
    undo.push(() => clearInterval(nodes));
    expect(await readingOf(phone, 'temp-south')).toMatchObject({ u: 'Cel', v: 21.25 });
    expect(await readingOf(phone, 'm1')).toMatchObject({ u: 'V', v: 1.735 });
    expect(await readingOf(phone, 'm2')).toMatchObject({ u: 'V', v: 2.01 });
    const { stdout } = drybell(['check', '--config', monitor.config, '--json']);
    const told: { what: string; ok: boolean }[] = JSON.parse(stdout).findings;
    expect(told.filter(({ what }) => what.startsWith('probe'))).toEqual(
      ['temp-south', 'm1', 'm2'].map((id) =>
        expect.objectContaining({
          what: `probe ${id}`,
          ok: true,
          sentence: expect.stringContaining('no complaint'),
        }),
      ),
    );
  });
});

/** The first record with a value that the monitor tells of a probe. */
async function readingOf(phone: Listener, probe: string): Promise<unknown> {
  const { text } = await phone.next(
    ({ topic, text: said }) => topic.endsWith(`/reading/${probe}`) && said.includes('"v":'),
  );
  return JSON.parse(text).find((record: object) => 'v' in record);
}
