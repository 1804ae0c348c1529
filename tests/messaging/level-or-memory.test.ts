import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { Level } from 'level';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type BytesLevel, LevelOrMemory } from '../../src/messaging/embedded/level-or-memory.js';
import { hasDisks, mountDisk, type SizeLimitedDisk } from '../helpers/size-limited-disk.js';

const DISK_BYTES = 2_000_000;
const SOON_MS = 20;
const bytes = (text: string) => Buffer.from(text);

describe.skipIf(!hasDisks())("the own broker's database on a disk that fills up", () => {
  let disk: SizeLimitedDisk;
  let said: string[];
  let isBeingRead: boolean;

  beforeEach(() => {
    disk = mountDisk(DISK_BYTES) as SizeLimitedDisk;
    [said, isBeingRead] = [[], false];
  });
  afterEach(() => disk.unmount());

  const folder = () => join(disk.folder, 'broker');
  async function open(): Promise<LevelOrMemory> {
    const level: BytesLevel = new Level(folder(), { valueEncoding: 'buffer' });
    await level.open();
    const watch = { lost: () => void said.push('lost'), found: () => void said.push('found') };
    return new LevelOrMemory(level, watch, () => isBeingRead, SOON_MS);
  }
  /** Everything that the database holds, as text. */
  async function all(database: LevelOrMemory): Promise<readonly string[]> {
    const values: string[] = [];
    for await (const value of database.values({ gte: 'a', lt: 'z' })) values.push(value.toString());
    return values;
  }
  const untilFound = async () => {
    while (!said.includes('found')) await sleep(SOON_MS);
  };

  it('goes on in memory with what it held, many writes at once', async () => {
    const database = await open();
    await database.put('a1', bytes('before'));
    disk.fill();
    const late = Array.from({ length: 40 }, (_, n) => database.put(`b${n + 10}`, Buffer.alloc(9_000, 'x')));
    await Promise.all([...late, database.del('a1'), database.put('c1', bytes('now'))]);
    expect(said).toEqual(['lost']);
    const values = await all(database);
    expect(values).toHaveLength(41);
    expect(values.at(-1)).toBe('now');
    expect(await database.get('a1')).toBeUndefined();
    disk.makeRoom();
    await database.close();
  });

  it('goes back to the disk with everything, nothing left of what was taken out meanwhile', async () => {
    const database = await open();
    await database.batch([
      { type: 'put', key: 'a1', value: bytes('stays') },
      { type: 'put', key: 'a2', value: bytes('goes') },
    ]);
    disk.fill();
    await database.put('b1', Buffer.alloc(50_000, 'x'));
    await database.clear({ gte: 'a2', lt: 'a3' });
    expect(said).toEqual(['lost']);
    disk.makeRoom();
    await untilFound();
    const chain = database.batch();
    chain.del('b1');
    await chain.write();
    await database.put('c1', bytes('after'));
    await database.close();
    const again = await open();
    expect(await all(again)).toEqual(['stays', 'after']);
    await again.close();
  });

  it('waits for who reads the disk before it goes back', async () => {
    const database = await open();
    // from before the first try: one that is under way when room is made would find it
    isBeingRead = true;
    disk.fill();
    await database.put('b1', Buffer.alloc(50_000, 'x'));
    disk.makeRoom();
    await sleep(5 * SOON_MS);
    expect(said).toEqual(['lost']);
    isBeingRead = false;
    await untilFound();
    await database.close();
  });

  it('that stays full until the end keeps what was there before', async () => {
    const database = await open();
    await database.put('a1', bytes('before'));
    disk.fill();
    await database.put('b1', Buffer.alloc(50_000, 'x'));
    await database.close();
    disk.makeRoom();
    const again = await open();
    expect(await all(again)).toEqual(['before']);
    await again.close();
  });
});
