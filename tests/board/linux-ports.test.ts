import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { linuxPorts } from '../../src/board/serial/linux-ports.js';

/** The part of /sys and /dev that matters, laid out as the kernel's documentation and a machine's own tree have it. */
describe('linuxPorts()', () => {
  const root = mkdtempSync(join(tmpdir(), 'drybell-sys-'));
  const places = { sys: join(root, 'sys'), dev: join(root, 'dev') };
  afterAll(() => rmSync(root, { recursive: true }));

  function link(from: string, to: string): void {
    mkdirSync(dirname(from), { recursive: true });
    symlinkSync(relative(dirname(from), to), from);
  }
  function usbDevice(path: string, attributes: Readonly<Record<string, string>>): string {
    const folder = join(places.sys, 'devices/pci0000:00/0000:00:14.0/usb1', path);
    mkdirSync(folder, { recursive: true });
    for (const [name, text] of Object.entries(attributes)) writeFileSync(join(folder, name), `${text}\n`);
    return folder;
  }
  function line(name: string, folder: string): void {
    mkdirSync(folder, { recursive: true });
    link(join(places.sys, 'class/tty', name), folder);
  }

  beforeAll(() => {
    const uno = usbDevice('1-1', {
      idVendor: '2341',
      idProduct: '0043',
      serial: '9573 A1',
      manufacturer: 'A',
    });
    line('ttyACM0', join(uno, '1-1:1.0/tty/ttyACM0'));
    const adapter = usbDevice('1-2/1-2.3', { idVendor: '1a86', idProduct: '7523' });
    line('ttyUSB0', join(adapter, '1-2.3:1.0/ttyUSB0/tty/ttyUSB0'));
    line('ttyS0', join(places.sys, 'devices/platform/serial8250/tty/ttyS0'));
    line('console', join(places.sys, 'devices/virtual/tty/console'));
    link(join(places.dev, 'serial/by-path/usb-0:2.3:1.0-port0'), join(places.dev, 'ttyUSB0'));
  });

  it('finds USB lines with their numbers, and none of the others, without udev', async () => {
    expect(await linuxPorts(places)).toEqual([
      { path: join(places.dev, 'ttyACM0'), serialNumber: '9573_A1', manufacturer: 'A', link: undefined },
      {
        path: join(places.dev, 'ttyUSB0'),
        serialNumber: undefined,
        manufacturer: undefined,
        link: join(places.dev, 'serial/by-path/usb-0:2.3:1.0-port0'),
      },
    ]);
  });

  it('finds none where the kernel tells of none', async () => {
    expect(await linuxPorts({ sys: join(root, 'none'), dev: places.dev })).toEqual([]);
  });
});
