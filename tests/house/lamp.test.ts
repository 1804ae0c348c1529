import { afterEach, describe, expect, it } from 'vitest';
import { closeAll, freshFolder, HOUR_MS, open, openOn, START_MS } from './small-house.js';

afterEach(closeAll);

describe('the call lamp', () => {
  it('is lit for calls that stand, also after a restart, and dark when they are seen', async () => {
    const folder = freshFolder();
    const first = await openOn(folder, START_MS);
    await first.runTo(START_MS + HOUR_MS / 6);
    await first.house.feed.command({ do: 'looked', tray: 't2', level: 1 });
    await first.runTo(START_MS + HOUR_MS);
    expect(first.lamp.at(-1)).toBe(true);
    await open.splice(0)[0]?.close();
    const second = await openOn(folder, START_MS + HOUR_MS);
    await second.runTo(START_MS + 1.2 * HOUR_MS);
    expect(second.lamp.at(-1)).toBe(true);
    await second.house.feed.command({ do: 'acknowledge' });
    expect(second.lamp.at(-1)).toBe(false);
    await open.splice(0)[0]?.close();
    const third = await openOn(folder, START_MS + 2 * HOUR_MS);
    await third.runTo(START_MS + 2.2 * HOUR_MS);
    expect(third.lamp).not.toContain(true);
  });
});
