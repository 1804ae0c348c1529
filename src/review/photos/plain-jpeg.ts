/** Markers of ISO/IEC 10918-1 (JPEG), table B.1: what follows 0xFF. */
const START = 0xd8;
const END = 0xd9;
const SCAN = 0xda;
const COMMENT = 0xfe;
const FIRST_APP = 0xe0;
const LAST_APP = 0xef;
/** APP0 is JFIF, APP14 says how the colours are coded; all others carry what is no picture: camera, place, thumbnails. */
const KEPT_APPS: ReadonlySet<number> = new Set([0xe0, 0xee]);
/** Frame headers SOF0 to SOF15; C4, C8 and CC are no frames. */
const isFrame = (marker: number): boolean =>
  marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);

/**
 * A JPEG without anything that is no picture (Exif with camera and place, comments); undefined for what is no JPEG or larger than
 * `mostPx` either way. Told by its content, not by what it says it is.
 */
export function plainJpeg(bytes: Buffer, mostPx: number): Buffer | undefined {
  if (bytes.length < 4 || bytes[0] !== 0xff || bytes[1] !== START) return undefined;
  const kept: Buffer[] = [bytes.subarray(0, 2)];
  let isSized = false;
  let at = 2;
  while (at + 4 <= bytes.length && bytes[at] === 0xff) {
    const marker = bytes[at + 1] ?? 0;
    if (marker === SCAN) {
      const isWhole = bytes.at(-2) === 0xff && bytes.at(-1) === END;
      return isSized && isWhole ? Buffer.concat([...kept, bytes.subarray(at)]) : undefined;
    }
    const length = bytes.readUInt16BE(at + 2);
    const end = at + 2 + length;
    if (length < 2 || end > bytes.length) return undefined;
    if (isFrame(marker)) {
      if (length < 8) return undefined;
      const heightPx = bytes.readUInt16BE(at + 5);
      const widthPx = bytes.readUInt16BE(at + 7);
      if (widthPx < 1 || heightPx < 1 || widthPx > mostPx || heightPx > mostPx) return undefined;
      isSized = true;
    }
    const isOther =
      marker === COMMENT || (marker >= FIRST_APP && marker <= LAST_APP && !KEPT_APPS.has(marker));
    if (!isOther) kept.push(bytes.subarray(at, end));
    at = end;
  }
  return undefined;
}
