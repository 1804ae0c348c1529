import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';

/** SHA-256 of the StandardFirmata 2.4 image for an Uno (LGPL-2.1+, read from its package and never copied here). */
const imageSha256 = '6d57ea7cf30e26c9c2f3a01ee37907d2c951f8bc9c27f84dddad12fa9c8b8f36';

/**
 * Program memory of an Uno with StandardFirmata.
 * @throws Error when the image is not the one that these tests were written against
 */
export function standardFirmata(): Uint16Array {
  const folder = dirname(createRequire(import.meta.url).resolve('avrgirl-arduino/package.json'));
  const image = readFileSync(join(folder, 'junk/hex/uno/StandardFirmata.cpp.hex'));
  const sha256 = createHash('sha256').update(image).digest('hex');
  if (sha256 !== imageSha256) throw new Error(`the firmware image has changed: its SHA-256 is ${sha256}`);
  return programOf(image.toString('ascii'));
}

/** Intel HEX to program memory; data records only, which is all that an Uno's image has. */
export function programOf(hex: string): Uint16Array {
  const program = new Uint8Array(32 * 1024);
  for (const line of hex.split(/\r?\n/)) {
    if (!line.startsWith(':') || line.slice(7, 9) !== '00') continue;
    const address = Number.parseInt(line.slice(3, 7), 16);
    const byteCount = Number.parseInt(line.slice(1, 3), 16);
    for (let i = 0; i < byteCount; i++)
      program[address + i] = Number.parseInt(line.slice(9 + 2 * i, 11 + 2 * i), 16);
  }
  return new Uint16Array(program.buffer);
}
