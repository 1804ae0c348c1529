import { LookError } from '../cells/look-error.js';

/** A file's text and how it was written. */
export interface DecodedText {
  readonly text: string;
  readonly encoding: 'UTF-8' | 'UTF-16LE' | 'UTF-16BE' | 'Windows-1252';
  readonly hasMark: boolean;
}

/** Enough of a file to tell UTF-16 without a mark by its zero bytes. */
const SAMPLE_BYTES = 4096;
/** Latin text in UTF-16 has a zero in nearly every second byte; no other encoding has one in a fifth of them. */
const ZERO_SHARE = 0.2;

/** How archives begin, and workbooks, which are archives (APPNOTE.TXT 4.3.7: local file header). */
const ZIP_MARK = [0x50, 0x4b, 0x03, 0x04];

function startsWith(bytes: Uint8Array, ...mark: readonly number[]): boolean {
  return mark.every((byte, index) => bytes[index] === byte);
}

/** Which bytes of the first few thousand are zero: UTF-16 without a mark gives itself away. */
function unmarkedUtf16(bytes: Uint8Array): 'UTF-16LE' | 'UTF-16BE' | undefined {
  const sample = bytes.subarray(0, SAMPLE_BYTES);
  let [even, odd] = [0, 0];
  sample.forEach((byte, index) => {
    if (byte !== 0) return;
    if (index % 2 === 0) even += 1;
    else odd += 1;
  });
  if (Math.max(even, odd) < (sample.length / 2) * ZERO_SHARE) return undefined;
  return odd > even ? 'UTF-16LE' : 'UTF-16BE';
}

/**
 * Text of a logger's file: by its byte order mark, by the zero bytes of UTF-16, as UTF-8 where every byte fits (RFC 3629),
 * else as Windows-1252, in which any byte is a character. Throws LookError `no-table` for a workbook.
 */
export function decodeBytes(bytes: Uint8Array): DecodedText {
  const read = (encoding: DecodedText['encoding'], hasMark: boolean): DecodedText => ({
    text: new TextDecoder(encoding).decode(bytes),
    encoding,
    hasMark,
  });
  if (startsWith(bytes, ...ZIP_MARK))
    throw new LookError(
      'no-table',
      'this is a workbook or an archive, not text; open it, save the sheet as CSV, and name that file',
    );
  if (startsWith(bytes, 0xef, 0xbb, 0xbf)) return read('UTF-8', true);
  if (startsWith(bytes, 0xff, 0xfe)) return read('UTF-16LE', true);
  if (startsWith(bytes, 0xfe, 0xff)) return read('UTF-16BE', true);
  const unmarked = unmarkedUtf16(bytes);
  if (unmarked !== undefined) return read(unmarked, false);
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return { text, encoding: 'UTF-8', hasMark: false };
  } catch (cause) {
    if (!(cause instanceof TypeError)) throw cause;
    return read('Windows-1252', false);
  }
}
