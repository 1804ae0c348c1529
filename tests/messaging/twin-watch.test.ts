import { describe, expect, it } from 'vitest';
import { TwinWatch } from '../../src/messaging/retained/twin-watch.js';

const OWN = '{"online":true,"at":"2026-04-18T05:00:00.000Z"}';
const OTHER = '{"online":true,"at":"2026-04-17T05:00:00.000Z"}';
const GONE = '{"online":false}';

describe('TwinWatch', () => {
  let nowMs = 0;
  /** Comes and goes once for each status that it finds. */
  const watchThat = (...found: string[]) => {
    const watch = new TwinWatch(() => nowMs);
    for (const [index, status] of found.entries()) {
      if (index > 0) watch.down();
      watch.up();
      watch.found(status, OWN);
    }
    return watch;
  };

  it.each([
    ['the status of the last run at the first connection', [OTHER]],
    ['an old status from a broker that lost its memory once', [OTHER, OWN, OTHER, OWN]],
    ['the last will', [OWN, GONE, GONE, GONE]],
    ['words that are no status', [OWN, 'hello', 'hello']],
  ])('does not take %s for another monitor', (_name, found) => {
    expect(watchThat(...found).hasTwin).toBe(false);
  });

  it('knows another monitor when it was there twice in a row, until it was left alone for a minute', () => {
    const watch = watchThat(OTHER, OTHER, OTHER);
    expect(watch.hasTwin).toBe(true);
    nowMs += 59_000;
    expect(watch.hasTwin).toBe(true);
    nowMs += 1_000;
    expect(watch.hasTwin).toBe(false);
  });
});
