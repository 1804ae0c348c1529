import { type Answer, fault, value } from '../parts/answer.js';
import type { BoardLink } from './board-link.js';

/** Writes bytes to an I2C part. Whether it was there shows at the next read. */
export function writeI2c(link: BoardLink, address: number, bytes: readonly number[]): void {
  link.io.i2cWrite(address, [...bytes]);
}

/**
 * Reads bytes from an I2C part once. When a part does not answer, the firmware says so in a text message and then sends
 * its stale buffer all the same: both are awaited, and the buffer is thrown away.
 *
 * @param register where to read from, or undefined for a plain read
 */
export async function readI2c(
  link: BoardLink,
  address: number,
  register: number | undefined,
  byteCount: number,
): Promise<Answer<readonly number[]>> {
  const complaints: string[] = [];
  const onText = (text: string) => complaints.push(text);
  link.io.on('string', onText);
  try {
    const answer = await link.question<number[]>(`I2C-reply-${address}-${register ?? 0}`, () => {
      if (register === undefined) link.io.i2cReadOnce(address, byteCount, ignoreReply);
      else link.io.i2cReadOnce(address, register, byteCount, ignoreReply);
    });
    if (answer.kind === 'fault') return answer;
    const complaint = complaints.find((text) => text.startsWith('I2C'));
    if (complaint !== undefined || answer.value.length !== byteCount)
      return fault(
        `nothing answers at I2C address 0x${address.toString(16)} (${complaint ?? `${answer.value.length} of ${byteCount} bytes`}); check its four wires`,
      );
    return value(answer.value);
  } finally {
    link.io.removeListener('string', onText);
  }
}

function ignoreReply(): void {
  // The reply is taken from the event, so that a late one can be dropped.
}
