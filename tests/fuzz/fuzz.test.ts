import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fuzz } from './run-fuzz.js';
import { openTargets, type Target } from './targets.js';

const CASES = 300;
const NETWORK_CASES = 60;
const SEED = 7;
const PATIENCE_MS = 120_000;

let targets: readonly Target[];
beforeAll(async () => {
  targets = await openTargets();
}, PATIENCE_MS);
afterAll(async () => {
  for (const target of targets) await target.close?.();
});

describe('bad inputs, byte by byte (npm run bench -- fuzz takes many more)', () => {
  it.each([
    ['configuration', CASES],
    ['readings CSV', CASES],
    ['log CSV', CASES],
    ['command', CASES],
    ['delivered reading', CASES],
    ['serial line', CASES],
    ['MQTT', NETWORK_CASES],
    ['HTTP', NETWORK_CASES],
  ])(
    '%s: refused in good order, or taken',
    async (name, cases) => {
      const target = targets.find((one) => one.name === name);
      if (target === undefined) throw new RangeError(`there is no door "${name}"`);
      const { broke, refused } = await fuzz(target, cases, SEED);
      expect(broke).toEqual([]);
      // whether a line was ended within a few milliseconds says nothing
      if (target.works === undefined) expect(refused).toBeGreaterThan(0);
    },
    PATIENCE_MS,
  );
});
