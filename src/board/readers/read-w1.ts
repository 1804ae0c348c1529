import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileTrouble } from '../../host/disk/file-trouble.js';
import type { Clock } from '../../monitor/ports/ports.js';
import { withDeadline } from '../line/deadline.js';
import { type Answer, fault } from '../parts/answer.js';
import { decodeW1File } from '../parts/ds18b20.js';

/** A 12-bit conversion takes 750 ms; the kernel waits for it inside the read. */
const readLimitMs = 3_000;

/** Reads one DS18B20 through the Linux kernel's file. `folder` is /sys/bus/w1/devices but in tests. */
export async function readW1(folder: string, w1Id: string, clock: Clock): Promise<Answer<number>> {
  const file = join(folder, w1Id, 'w1_slave');
  const text = readFile(file, 'utf8').catch((cause: NodeJS.ErrnoException) => cause);
  const outcome = await withDeadline(text, readLimitMs, clock);
  if (outcome.kind === 'late') return fault(`the kernel did not deliver ${file} within 3 s`);
  if (typeof outcome.value === 'string') return decodeW1File(outcome.value);
  if (outcome.value.code === 'ENOENT')
    return fault(
      `there is no 1-Wire probe "${w1Id}"; check its wires, and that the w1-gpio overlay is loaded`,
    );
  return fault(`cannot read ${file}: ${fileTrouble(outcome.value)}`);
}
