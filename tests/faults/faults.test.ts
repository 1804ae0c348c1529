import { describe, expect, it } from 'vitest';
import { describeIf } from '../helpers/needs.js';
import { hasDisks } from '../helpers/size-limited-disk.js';
import { HARMS } from './harms/all.js';
import { faultsOf, runHarm } from './run-harm.js';

const SEED = 20;
/** Each starts the program three times on a machine that does much else. */
const PATIENCE_MS = 420_000;

async function faultsAfter(name: string): Promise<readonly string[] | undefined> {
  const harm = HARMS.find((one) => one.name === name);
  if (harm === undefined) throw new RangeError(`there is no harm "${name}"`);
  const report = await runHarm(harm, 1, SEED);
  expect(report?.counts.notesAnswered).toBeGreaterThan(0);
  return report && faultsOf(harm, report);
}

describe('harm on purpose (npm run faults does it many times)', () => {
  it.each(['kill -9', 'descriptors used up', 'a file smashed while off'])(
    '%s: nothing lost, nothing doubled, and it recovers',
    async (name) => expect(await faultsAfter(name)).toEqual([]),
    PATIENCE_MS,
  );
});

describeIf('mosquitto', 'harm to a broker elsewhere', () => {
  it('broker killed: nothing lost, nothing doubled, and it recovers', { timeout: PATIENCE_MS }, async () => {
    expect(await faultsAfter('broker killed')).toEqual([]);
  });
});

describe.skipIf(!hasDisks())('harm to the disk', () => {
  it('disk full: nothing lost, nothing doubled, and it recovers', { timeout: PATIENCE_MS }, async () => {
    expect(await faultsAfter('disk full')).toEqual([]);
  });
});
