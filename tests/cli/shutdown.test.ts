import { describe, expect, it } from 'vitest';
import { closeInOrder } from '../../src/cli/running/shutdown.js';

describe('closeInOrder()', () => {
  it('closes in the order given, and goes on after a failure', async () => {
    const seen: string[] = [];
    const step = (name: string, fails = false) => ({
      name,
      close: async () => {
        seen.push(name);
        if (fails) throw new Error('stuck');
      },
    });
    const outcomes = await closeInOrder([step('monitor'), step('page', true), step('store')], 10_000);
    expect(seen).toEqual(['monitor', 'page', 'store']);
    expect(outcomes.map(({ outcome }) => outcome)).toEqual(['closed', 'failed', 'closed']);
  });

  it('a step that never ends is late, and the rest is still asked to close', async () => {
    let storeAsked = false;
    const outcomes = await closeInOrder(
      [
        { name: 'monitor', close: () => new Promise(() => undefined) },
        {
          name: 'store',
          close: async () => {
            storeAsked = true;
          },
        },
      ],
      20,
    );
    expect(outcomes[0]).toEqual({ name: 'monitor', outcome: 'late' });
    expect(storeAsked).toBe(true);
  });
});
