import type { Page } from 'playwright-core';

const EXIF_MARKER = [0xff, 0xe1] as const;
/** What a camera writes beside a picture, and what must not be left of it. */
export const SECRET = 'Exif\0\0 50.0755N 14.4378E';

/** A JPEG of a browser with a camera's Exif segment put in behind its first one. */
export function withPlace(jpeg: Buffer): Buffer {
  const firstEnd = 4 + jpeg.readUInt16BE(4);
  const secret = Buffer.from(SECRET, 'latin1');
  const length = Buffer.alloc(2);
  length.writeUInt16BE(secret.length + 2);
  return Buffer.concat([
    jpeg.subarray(0, firstEnd),
    Buffer.from(EXIF_MARKER),
    length,
    secret,
    jpeg.subarray(firstEnd),
  ]);
}

/** A picture of noise, which does not pack: large in bytes as a camera's is. */
export async function noisyJpeg(tab: Page, widthPx: number, heightPx: number): Promise<Buffer> {
  const address = await tab.evaluate(
    ([width, height]) => {
      const canvas = document.createElement('canvas');
      canvas.width = width;
      canvas.height = height;
      const pen = canvas.getContext('2d');
      const pixels = pen?.createImageData(width, height);
      if (pixels === undefined) throw new Error('no canvas');
      // Lehmer's generator (Park and Miller 1988): the same noise each time.
      let seed = 1;
      for (let at = 0; at < pixels.data.length; at++) {
        seed = (seed * 48_271) % 2_147_483_647;
        pixels.data[at] = at % 4 === 3 ? 255 : seed % 256;
      }
      pen?.putImageData(pixels, 0, 0);
      return canvas.toDataURL('image/jpeg', 0.9);
    },
    [widthPx, heightPx] as const,
  );
  return Buffer.from(address.slice(address.indexOf(',') + 1), 'base64');
}
