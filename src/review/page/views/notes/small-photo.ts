/** Longest sides tried in turn, px, until the photo is small enough; the house takes none wider. */
const SIDES_PX = [1600, 1280, 1024, 800, 640] as const;
/** The house takes 300 kB (`MOST_PHOTO_BYTES`); base64 is 4 letters for 3 bytes. */
const MOST_LETTERS = 380_000;
/** Of a JPEG, 0 to 1: leaves and soil stay sharp (judgement). */
const QUALITY = 0.82;

/** A photo made small on this phone: drawn anew, so that nothing but the picture is left of it. */
export interface SmallPhoto {
  /** Text of a `data:` address. */
  readonly jpeg: string;
  readonly canvas: HTMLCanvasElement;
  readonly kB: number;
}

/** Makes a picture of the phone small; undefined for a file that it can't open as one. */
export async function smallPhoto(file: Blob): Promise<SmallPhoto | undefined> {
  const picture = await createImageBitmap(file).catch((cause: unknown) => {
    if (cause instanceof DOMException) return undefined;
    throw cause;
  });
  if (picture === undefined) return undefined;
  try {
    for (const sidePx of SIDES_PX) {
      const scale = Math.min(1, sidePx / Math.max(picture.width, picture.height));
      const canvas = document.createElement('canvas');
      canvas.width = Math.max(1, Math.round(picture.width * scale));
      canvas.height = Math.max(1, Math.round(picture.height * scale));
      canvas.getContext('2d')?.drawImage(picture, 0, 0, canvas.width, canvas.height);
      const jpeg = canvas.toDataURL('image/jpeg', QUALITY);
      if (jpeg.length <= MOST_LETTERS) return { jpeg, canvas, kB: Math.ceil((jpeg.length * 3) / 4 / 1000) };
    }
    return undefined;
  } finally {
    picture.close();
  }
}
