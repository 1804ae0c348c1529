import { readdir, readFile, readlink, realpath } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import type { ListedPort } from './choose-port.js';

/** Where the kernel tells of its devices, and where their files and links are. */
export interface LinuxPlaces {
  readonly sys: string;
  readonly dev: string;
}

const PLACES: LinuxPlaces = { sys: '/sys', dev: '/dev' };

function isMissing(cause: unknown): boolean {
  return (
    cause instanceof Error && 'code' in cause && ['ENOENT', 'ENOTDIR', 'EINVAL'].includes(String(cause.code))
  );
}

/** What a look at a file gives, or undefined where there is none. */
async function ifThere<T>(look: Promise<T>): Promise<T | undefined> {
  try {
    return await look;
  } catch (cause) {
    if (isMissing(cause)) return undefined;
    throw cause;
  }
}

/** An attribute of a device; undefined where it has none. */
async function attribute(device: string, name: string): Promise<string | undefined> {
  const text = (await ifThere(readFile(join(device, name), 'utf8')))?.trim();
  return text === '' ? undefined : text;
}

/** The USB device that a line belongs to: the nearest folder above it that has a vendor's number. */
async function usbDeviceOf(line: string, sys: string): Promise<string | undefined> {
  const top = await realpath(sys);
  for (let folder = await realpath(line); folder.startsWith(`${top}/`); folder = dirname(folder))
    if ((await attribute(folder, 'idVendor')) !== undefined) return folder;
  return undefined;
}

/** Links of one folder of /dev/serial, by the file that they lead to; made by udev, none where there is no udev. */
async function linksIn(folder: string): Promise<ReadonlyMap<string, string>> {
  const links = new Map<string, string>();
  for (const name of (await ifThere(readdir(folder))) ?? []) {
    const link = join(folder, name);
    const target = await ifThere(readlink(link));
    if (target !== undefined) links.set(resolve(folder, target), link);
  }
  return links;
}

/**
 * The USB serial ports of a Linux machine, as the kernel tells them under /sys/class/tty; no other program is needed.
 * Serial numbers are written as udev writes them, with "_" for white space, so that both names fit.
 */
export async function linuxPorts({ sys, dev }: LinuxPlaces = PLACES): Promise<readonly ListedPort[]> {
  const classFolder = join(sys, 'class/tty');
  const byPath = await linksIn(join(dev, 'serial/by-path'));
  const ports: ListedPort[] = [];
  for (const name of ((await ifThere(readdir(classFolder))) ?? []).sort()) {
    const device = await ifThere(usbDeviceOf(join(classFolder, name), sys));
    if (device === undefined) continue;
    const path = join(dev, name);
    ports.push({
      path,
      serialNumber: (await attribute(device, 'serial'))?.replace(/\s+/g, '_'),
      manufacturer: await attribute(device, 'manufacturer'),
      link: byPath.get(path),
    });
  }
  return ports;
}
