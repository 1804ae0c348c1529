import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { connectAsync } from 'mqtt';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openEmbeddedBroker } from '../../src/messaging/embedded/embedded-broker.js';
import { hasDisks, mountDisk } from '../helpers/size-limited-disk.js';
import { quietLog } from './quiet-log.js';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'drybell-broker-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const broker = (where: string) =>
  openEmbeddedBroker({ farm: 'alder-row', host: '127.0.0.1', port: 0, folder: where, log: quietLog });

/** A broker's folder with retained messages, a session and what waits for it. */
async function lived(where: string): Promise<void> {
  const one = await broker(where);
  const options = { clientId: 'phone', clean: false, protocolVersion: 4 } as const;
  const phone = await connectAsync(one.address, options);
  await phone.subscribeAsync('drybell/alder-row/#', { qos: 1 });
  await phone.endAsync();
  for (let n = 0; n < 20; n++)
    await one.say({
      topic: `drybell/alder-row/alarm/t${n}/dry`,
      payload: `{"n":${n}}`,
      retain: true,
    } as never);
  await one.close();
}

/** A message said now reaches somebody who listens now. */
async function works(where: string): Promise<string | undefined> {
  const one = await broker(where);
  const client = await connectAsync(one.address, { protocolVersion: 4 });
  await client.subscribeAsync('drybell/alder-row/call', { qos: 1 });
  const came = new Promise<string>((resolve) =>
    client.once('message', (_, payload) => resolve(String(payload))),
  );
  await one.say({ topic: 'drybell/alder-row/call', payload: 'now', retain: false } as never);
  expect(await came).toBe('now');
  await client.endAsync();
  await one.close();
  return one.trouble;
}

describe("the broker's folder", () => {
  it('that is as it was left is said nothing of', async () => {
    await lived(folder);
    expect(await works(folder)).toBeUndefined();
  });

  it.each(['MANIFEST', 'CURRENT'])(
    'with a garbled %s is set aside under a dated name, said, and begun anew',
    async (name) => {
      await lived(folder);
      const file = readdirSync(folder).find((one) => one.startsWith(name)) ?? '';
      writeFileSync(join(folder, file), 'rust'.repeat(20));
      expect(await works(folder)).toMatch(
        /^The broker's folder could not be read .* set aside as ".*\.damaged-\d{4}-.*begun anew/,
      );
      expect(await works(folder)).toBeUndefined();
    },
  );

  it('with 50 flipped bytes in any file works', async () => {
    const whole = join(folder, 'whole');
    await lived(whole);
    const files = readdirSync(whole)
      .filter((name) => statSync(join(whole, name)).size > 0)
      .map((name) => [name, readFileSync(join(whole, name))] as const);
    const flips = fc.array(fc.tuple(fc.nat(files.length - 1), fc.nat()), { minLength: 50, maxLength: 50 });
    let run = 0;
    await fc.assert(
      fc.asyncProperty(flips, async (places) => {
        const where = join(folder, `run-${run++}`);
        const copies = files.map(([name, bytes]) => [name, Buffer.from(bytes)] as const);
        for (const [file, at] of places) {
          const bytes = copies[file]?.[1] ?? Buffer.alloc(1);
          bytes[at % bytes.length] = (bytes[at % bytes.length] ?? 0) ^ 0x41;
        }
        mkdirSync(where);
        for (const [name, bytes] of copies) writeFileSync(join(where, name), bytes);
        await works(where);
        await works(where);
      }),
      { numRuns: 15 },
    );
  }, 120_000);
});

describe.skipIf(!hasDisks())('a full disk at start (a mounted one; skipped: needs root on Linux)', () => {
  it('the broker keeps everything in memory, says so, and works', async () => {
    const disk = mountDisk(2_000_000);
    if (disk === undefined) throw new Error('no disk');
    try {
      await lived(join(disk.folder, 'broker'));
      disk.fill();
      expect(await works(join(disk.folder, 'broker'))).toMatch(/^The disk is full: the broker keeps/);
      disk.makeRoom();
      expect(await works(join(disk.folder, 'broker'))).toBeUndefined();
    } finally {
      disk.unmount();
    }
  });
});
