import { readdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { PhotoShelf } from '../../src/review/photos/photo-shelf.js';
import { plainJpeg } from '../../src/review/photos/plain-jpeg.js';
import { storeDocuments } from '../../src/store/sqlite/read-state.js';
import { backUpStore } from '../../src/store/sqlite/upkeep/backup.js';
import { restoreStore } from '../../src/store/sqlite/upkeep/restore.js';
import { describeIf } from '../helpers/needs.js';
import { PHONE, sharedBrowser, type TestBrowser } from './browser.js';
import { noisyJpeg, SECRET, withPlace } from './jpeg-with-place.js';
import { openWholeHouse, type WholeHouse } from './whole-house.js';

const WAIT = { timeout: 15_000 };

describeIf('chromium', 'a photo of a tray, from the phone into the store', () => {
  let house: WholeHouse;
  let browser: TestBrowser;
  let tab: Page;
  let large: Buffer;

  beforeAll(async () => {
    house = await openWholeHouse({ photosMb: 1 });
    browser = await sharedBrowser();
    tab = await browser.newPage(PHONE);
    await tab.goto(`${house.page}#journal`);
    await tab.locator('.note-writer').waitFor(WAIT);
    large = withPlace(await noisyJpeg(tab, 2400, 1800));
  });
  afterAll(async () => {
    await browser.close();
    await house.close();
    rmSync(house.folder, { recursive: true, force: true });
  });

  const ofPhone = (name: string, buffer: Buffer) => ({ name, mimeType: 'image/jpeg', buffer });
  const post = (body: object) =>
    fetch(`${house.page}api/command`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(body),
    });
  const shelf = () => new PhotoShelf(storeDocuments(house.folder), 1);
  const note = async (text: string): Promise<void> => {
    await tab.locator('.note-writer textarea').fill(text);
    await tab.locator('.note-writer input[type=file]').setInputFiles(ofPhone('camera.jpg', large));
    await tab.locator('.photo-made canvas').waitFor(WAIT);
    await tab.locator('.note-writer select').selectOption('t1');
    await tab.getByRole('button', { name: 'Keep it' }).click();
  };

  it('is made small on the phone, kept without place, and seen in the journal and beside the curve of its tray', async () => {
    await tab.locator('.note-writer summary').click();
    expect(large.includes(SECRET)).toBe(true);
    await note('mould on the left edge');
    const shown = tab.locator('.line .photo img');
    await shown.waitFor(WAIT);
    await expect
      .poll(() => shown.evaluate((img) => (img as HTMLImageElement).naturalWidth), WAIT)
      .toBeGreaterThan(600);
    const [id] = await shelf().ids();
    const kept = await shelf().read(id ?? '');
    expect(kept?.length).toBeLessThan(300_000);
    expect(kept?.includes('Exif')).toBe(false);
    await tab.goto(`${house.page}#/curves/t1`);
    await tab.locator('.notes-strip', { hasText: 'mould on the left edge' }).locator('img').waitFor(WAIT);
  });

  it('goes with a backup, and comes back with it', async () => {
    const copy = join(house.folder, 'copy.db');
    const elsewhere = join(house.folder, 'elsewhere');
    await backUpStore(house.folder, copy);
    restoreStore(copy, elsewhere, { replace: false, nowMs: Date.now() });
    const back = new PhotoShelf(storeDocuments(elsewhere), 1);
    const [id = ''] = await back.ids();
    expect(await back.read(id)).toEqual(await shelf().read(id));
    expect(readdirSync(house.folder).some((name) => name.endsWith('.jpg'))).toBe(false);
    expect(readFileSync(copy).length).toBeGreaterThan(0);
  });

  it('is gone from the store when its note is undone', async () => {
    const [id = ''] = await shelf().ids();
    await tab.goto(`${house.page}#journal`);
    await tab.getByRole('button', { name: 'Undo: t1' }).click(WAIT);
    await tab.locator('.line-undone', { hasText: 't1' }).waitFor(WAIT);
    await expect.poll(async () => (await fetch(`${house.page}api/photo/${id}`)).status, WAIT).toBe(404);
    expect(await shelf().ids()).toEqual([]);
  });

  it('waits on the phone while there is no contact, and is told with its note when there is', async () => {
    await tab.goto(`${house.page}#journal`);
    await tab.locator('.note-writer summary').click();
    await tab.context().setOffline(true);
    await note('told from the field');
    await tab.getByText('Kept on this phone; it is told, with this time').first().waitFor(WAIT);
    expect(await shelf().ids()).toEqual([]);
    await tab.context().setOffline(false);
    await tab.locator('.line', { hasText: 'told from the field' }).locator('img').waitFor(WAIT);
    expect(await shelf().ids()).toHaveLength(1);
  });

  it('whatever is no photo is refused by its content, and nothing is kept of it', async () => {
    const png = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
    const data = (bytes: Buffer): string => `data:image/jpeg;base64,${bytes.toString('base64')}`;
    const told = { do: 'note', tray: 't1', text: 'x' };
    expect((await post({ ...told, photo: data(png) })).status).toBe(415);
    expect((await post({ ...told, photo: data(large.subarray(0, 300_001)) })).status).toBe(413);
    expect((await post({ ...told, photo: '../../etc/passwd' })).status).toBe(400);
    expect((await post({ do: 'watered', tray: 't1', photo: data(png) })).status).toBe(400);
    expect((await fetch(`${house.page}api/photo/..%2f..%2fetc%2fpasswd`)).status).toBe(404);
    expect(await shelf().ids()).toHaveLength(1);
  });

  it('a photo of an unknown tray is dropped with its note; one too many says how much room there is', async () => {
    const small = await noisyJpeg(tab, 640, 480);
    const photo = `data:image/jpeg;base64,${small.toString('base64')}`;
    expect((await post({ do: 'note', tray: 'nobody', text: 'x', photo })).status).toBe(409);
    expect(await shelf().ids()).toHaveLength(1);
    const statuses: number[] = [];
    for (let count = 0; count < 10 && !statuses.includes(507); count++)
      statuses.push((await post({ do: 'note', text: 'x', photo })).status);
    expect(statuses.at(-1)).toBe(507);
    const { sentence } = (await (await post({ do: 'note', text: 'x', photo })).json()) as {
      sentence: string;
    };
    expect(sentence).toContain('1 MB (page.photosMb');
  });

  it('plainJpeg() leaves the picture as it was and takes all that is none; a cut or oversized one is no photo', async () => {
    const jpeg = await noisyJpeg(tab, 64, 48);
    const plain = plainJpeg(jpeg, 100);
    expect(plain?.subarray(-200)).toEqual(jpeg.subarray(-200));
    expect(plainJpeg(withPlace(jpeg), 100)).toEqual(plain);
    expect(plainJpeg(jpeg, 63)).toBeUndefined();
    expect(plainJpeg(jpeg.subarray(0, -2), 100)).toBeUndefined();
    for (let length = 0; length < 700; length++)
      expect(plainJpeg(jpeg.subarray(0, length), 100)).toBeUndefined();
  });
});
