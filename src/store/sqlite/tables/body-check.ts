import { createHash } from 'node:crypto';

/**
 * 32 bits of a body's SHA-256: SQLite notices a page that is out of order, not a flipped bit in a text. Kept beside bodies since
 * version 3; one in four billion changes goes unnoticed.
 */
export function bodyCheck(body: string): number {
  return createHash('sha256').update(body).digest().readUInt32BE(0);
}

/** False for a body that is not what was written; a body from before version 3 has no check word and is believed. */
export function isAsWritten(body: string, checkWord: number | null): boolean {
  return checkWord === null || bodyCheck(body) === checkWord;
}
