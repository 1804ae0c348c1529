import { expect, it } from 'vitest';
import { Turns } from '../../src/monitor/turns.js';

it('a reading goes before commands that wait, one thing at a time, and what throws is its own', async () => {
  const turns = new Turns();
  const done: string[] = [];
  let running = 0;
  const work = (name: string) => async () => {
    running += 1;
    expect(running).toBe(1);
    await new Promise((resolve) => setImmediate(resolve));
    running -= 1;
    done.push(name);
  };
  const all = [turns.take(work('first'))];
  await new Promise((resolve) => setImmediate(resolve));
  const thrown = turns.take(async () => {
    done.push('throws');
    throw new RangeError('no');
  });
  for (const name of ['a', 'b', 'c']) all.push(turns.take(work(name)));
  all.push(turns.take(work('reading'), true));
  await expect(thrown).rejects.toThrow('no');
  await Promise.all(all);
  expect(done).toEqual(['first', 'reading', 'throws', 'a', 'b', 'c']);
});

it('a machine that reads without a pause still answers: eight commands between two readings', async () => {
  const turns = new Turns();
  const done: string[] = [];
  const say = (name: string) => async () => void done.push(name);
  const all = Array.from({ length: 20 }, () => turns.take(say('c')));
  all.push(...Array.from({ length: 3 }, () => turns.take(say('R'), true)));
  await Promise.all(all);
  expect(done.join('')).toBe('RccccccccRccccccccRcccc');
});
