import { createHash } from 'node:crypto';
import { documentValue, type KeptDocument } from '../../../shared/base/kept-document.js';
import type { FactStore } from '../../monitor/ports/ports.js';
import { plainJpeg } from './plain-jpeg.js';

/** A photo as it is sent: smaller than any camera's, enough to see a leaf (judgement). The page makes it so. */
export const MOST_PHOTO_BYTES = 300_000;
const MOST_PX = 1600;
const BYTES_PER_MB = 1_000_000;
const ID_LETTERS = 24;

/** What has become of a photo that was sent. */
export type PhotoKept =
  | { readonly outcome: 'kept' | 'known'; readonly id: string }
  | { readonly outcome: 'no-photo' | 'photo-too-large' | 'photos-full' };

type Documents = Pick<FactStore, 'loadState'> & Partial<Pick<FactStore, 'saveState'>>;

/** Which photos there are, and how large each is, bytes. */
type Index = ReadonlyMap<string, number>;

const INDEX = 'photos';
const indexDocument: KeptDocument<Index> = {
  name: 'The list of photos',
  version: 1,
  steps: {},
  read: ({ photos }) => (Array.isArray(photos) ? new Map(photos as [string, number][]) : undefined),
};
const photoDocument: KeptDocument<Buffer> = {
  name: 'A photo',
  version: 1,
  steps: {},
  read: ({ jpeg }) => (typeof jpeg === 'string' ? Buffer.from(jpeg, 'base64') : undefined),
};
const documentOf = (id: string): string => `photo-${id}`;

/**
 * Photos beside the notes that speak of them, as documents of the store: a backup has them, and no name of a file is ever made of what
 * somebody sent. One at a time.
 */
export class PhotoShelf {
  #turn: Promise<unknown> = Promise.resolve();

  /** @param store may only be read where it can't save: then nothing is kept */
  constructor(
    private readonly store: Documents,
    private readonly mostMb: number,
  ) {}

  /** Keeps a photo under a name made of the command's ref: sent twice it is kept once. */
  keep(ref: string, sent: Buffer): Promise<PhotoKept> {
    return this.#next(async (): Promise<PhotoKept> => {
      const { saveState } = this.store;
      if (saveState === undefined) return { outcome: 'no-photo' };
      if (sent.length > MOST_PHOTO_BYTES) return { outcome: 'photo-too-large' };
      const jpeg = plainJpeg(sent, MOST_PX);
      if (jpeg === undefined) return { outcome: 'no-photo' };
      const id = createHash('sha256').update(ref).digest('hex').slice(0, ID_LETTERS);
      const index = await this.#index();
      if (index.has(id)) return { outcome: 'known', id };
      const usedBytes = [...index.values()].reduce((sum, bytes) => sum + bytes, 0);
      if (usedBytes + jpeg.length > this.mostMb * BYTES_PER_MB) return { outcome: 'photos-full' };
      await saveState.call(this.store, documentOf(id), { version: 1, jpeg: jpeg.toString('base64') });
      await this.#saveIndex(new Map([...index, [id, jpeg.length]]));
      return { outcome: 'kept', id };
    });
  }

  /** A photo's bytes; undefined where none of this name is kept. */
  async read(id: string): Promise<Buffer | undefined> {
    if (!(await this.#index()).has(id)) return undefined;
    return documentValue(photoDocument, await this.store.loadState(documentOf(id)));
  }

  /** Names of all photos. */
  async ids(): Promise<readonly string[]> {
    return [...(await this.#index()).keys()];
  }

  /** Forgets a photo: its note was taken back, or never came to be. */
  drop(id: string): Promise<void> {
    return this.#next(async () => {
      const index = new Map(await this.#index());
      if (!index.delete(id)) return;
      await this.#saveIndex(index);
      await this.store.saveState?.(documentOf(id), null);
    });
  }

  async #index(): Promise<Index> {
    return documentValue(indexDocument, await this.store.loadState(INDEX)) ?? new Map();
  }

  async #saveIndex(index: Index): Promise<void> {
    await this.store.saveState?.(INDEX, { version: 1, photos: [...index] });
  }

  #next<T>(work: () => Promise<T>): Promise<T> {
    const done = this.#turn.then(work);
    this.#turn = done.catch(() => undefined);
    return done;
  }
}
