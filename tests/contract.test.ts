import { describe, expect, it } from 'vitest';
import { farmConfigSchema } from '../shared/config/farm.js';
import { loadConfig } from '../src/cli/config/load-config.js';

const smallest = {
  farm: 'alder-row',
  timeZone: 'Europe/Berlin',
  rounds: ['07:00', '18:00'],
  benches: [{ id: 'south' }],
  trays: [{ id: 't1', bench: 'south', blockSideMm: 19, blockCount: 280 }],
  probes: [{ id: 'temp-south', kind: 'air-temperature', bench: 'south' }],
};

describe('farm configuration', () => {
  it('takes the smallest farm and fills in defaults', () => {
    const farm = farmConfigSchema.parse(smallest);
    expect(farm.notices.leadMin).toBe(75);
    expect(farm.cadenceS).toBe(60);
  });

  it('takes the example farm, comments and all', () => {
    const farm = loadConfig('shared/examples/alder-row.jsonc');
    expect(farm.trays.map((tray) => tray.blockSideMm)).toEqual([19, 38, 51, 19]);
    expect(farm.probes.every((probe) => probe.hookup !== undefined)).toBe(true);
  });

  it('reports every problem at once, each with its path', () => {
    const result = farmConfigSchema.safeParse({
      ...smallest,
      timeZone: 'Mars/Olympus',
      benches: [{ id: 'south', colour: 'green' }],
      trays: [{ id: 't1', bench: 'south', blockSideMm: 5, blockCount: 280 }],
    });
    expect(result.success).toBe(false);
    const paths = result.error?.issues.map((issue) => issue.path.join('.'));
    expect(paths).toEqual(expect.arrayContaining(['timeZone', 'benches.0', 'trays.0.blockSideMm']));
  });
});
