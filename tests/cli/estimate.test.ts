import { Command, CommanderError } from 'commander';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { register } from '../../src/cli/records/estimate/estimate.js';
import {
  type EstimateOptions,
  readEstimateOptions,
  usualBlockCount,
} from '../../src/cli/records/estimate/estimate-options.js';
import { estimateTable, hoursInWords, rhythmInWords } from '../../src/cli/records/estimate/estimate-table.js';
import { fitted } from '../../src/cli/terminal/fitted.js';
import { parseQuantity } from '../../src/cli/terminal/typed/quantities.js';
import { estimateBlock } from '../../src/drying/estimate.js';
import { createSpeech } from '../../src/watering/sentences/speech.js';

const DEFAULTS: EstimateOptions = {
  temperature: '20C',
  humidity: '60',
  air: 'gentle',
  light: 'mixed',
  dayLength: '13',
  stage: 'cotyledons',
  cover: 'none',
  units: 'metric',
};

/** Runs `drybell estimate` in this process. */
async function run(...options: readonly string[]): Promise<{ out: string; err: string; code: unknown }> {
  const out: string[] = [];
  const err: string[] = [];
  vi.spyOn(console, 'log').mockImplementation((text: string) => void out.push(text));
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => out.push(String(text)) > 0);
  vi.spyOn(console, 'error').mockImplementation((text: string) => void err.push(text));
  const program = new Command('drybell').exitOverride();
  register(program);
  await program.parseAsync(['node', 'drybell', 'estimate', ...options]);
  const code = process.exitCode;
  process.exitCode = 0;
  return { out: out.join('\n'), err: err.join('\n'), code };
}

afterEach(() => {
  vi.restoreAllMocks();
});

describe('drybell estimate', () => {
  it('without options tells the common three sizes', async () => {
    const { out, code } = await run();
    expect(code ?? 0).toBe(0);
    for (const words of ['19 mm', '38 mm', '51 mm', 'once a day', 'mL for 280', 'first blocks'])
      expect(out).toContain(words);
  });

  it('--json gives numbers with units in their names, null beyond the horizon', async () => {
    const { out } = await run(
      '--json',
      '--block',
      '25mm:100',
      '--cover',
      'tight-dome',
      '--humidity',
      '95',
      '--light',
      'dark',
    );
    const { climate, trays } = JSON.parse(out);
    expect(climate).toMatchObject({ temperatureC: 20, relativeHumidityPct: 95, nightTemperatureC: null });
    expect(trays).toHaveLength(1);
    expect(trays[0]).toMatchObject({ blockSideMm: 25, blockCount: 100 });
    expect(trays[0].hoursToRefill.p90).toBeNull();
  });

  it('units of the United States come in and go out', async () => {
    const { out } = await run('--units', 'us', '--temperature', '68', '--block', '3/4');
    expect(out).toContain('68 °F');
    expect(out).toContain('3/4 in');
    expect(out).toContain('fl oz');
  });

  it('bad input tells every problem with what was expected, prints no table, exits with 2', async () => {
    const { out, err, code } = await run(
      '--humidity',
      '0',
      '--block',
      '5',
      '--air',
      'windy',
      '--stage',
      'old',
    );
    expect(code).toBe(2);
    expect(out).toBe('');
    expect(err.split('\n')).toHaveLength(4);
    for (const words of [
      '--humidity "0": expected 1 to 100 %',
      '10 to 300 mm',
      'still, gentle, airy, fan',
      'cotyledons',
    ])
      expect(err).toContain(words);
  });

  it('an unknown option is refused by the command line', async () => {
    vi.spyOn(process.stderr, 'write').mockReturnValue(true);
    await expect(run('--wind', '3')).rejects.toThrow(CommanderError);
  });
});

describe('readEstimateOptions()', () => {
  const problemsOf = (options: Partial<EstimateOptions>): readonly string[] => {
    const request = readEstimateOptions({ ...DEFAULTS, ...options });
    return request.ok ? [] : request.problems;
  };

  it.each([
    { temperature: '90C' },
    { temperature: 'warm' },
    { night: '200F' },
    { humidity: '101' },
    { humidity: '60C' },
    { air: '-1' },
    { air: '12' },
    { light: '900' },
    { light: '3x' },
    { dayLength: '25' },
    { stage: '-2' },
    { stage: '200' },
    { cover: 'glass' },
    { bottomHeat: '400' },
    { bottomHeat: 'warm' },
    { block: ['9'] },
    { block: ['301mm'] },
    { block: ['19:0'] },
    { block: ['19:2.5'] },
    { block: [''] },
    { units: 'old' },
  ])('refuses %o with one problem', (options) => {
    expect(problemsOf(options)).toHaveLength(1);
  });

  it.each([
    { temperature: '70F' },
    { night: '5' },
    { humidity: '55%' },
    { air: '0.3m/s' },
    { air: '1mph' },
    { light: '8MJ' },
    { light: '150W/m2' },
    { light: '20klx' },
    { light: '20000lx' },
    { dayLength: '16h' },
    { bottomHeat: '60W/m2' },
    { stage: '12' },
    { block: ['3/4in', '38mm:60', '300'] },
  ])('takes %o', (options) => {
    expect(problemsOf(options)).toEqual([]);
  });

  it('20 klx by day is about 8 MJ/m² in 13 h', () => {
    const request = readEstimateOptions({ ...DEFAULTS, light: '20klx' });
    expect(request.ok && request.climate.solarMJPerM2Day).toBeCloseTo(8.1, 1);
  });
});

describe('estimateTable()', () => {
  it.each([40, 80, 112, 144, 160])('fits a terminal of %i columns', (columns) => {
    const request = readEstimateOptions({ ...DEFAULTS, temperature: '28', light: 'blazing' });
    if (!request.ok) throw new Error(request.problems.join());
    const { climate, trays, units } = request;
    const estimates = trays.map((tray) => estimateBlock(climate, tray));
    const table = estimateTable(
      climate,
      trays,
      estimates,
      createSpeech({ timeZone: 'UTC', units }).words,
      columns,
    );
    const lines = fitted(table, columns).split('\n');
    expect(lines.join('\n')).toContain('28 °C');
    for (const line of lines) expect(line.length).toBeLessThanOrEqual(columns);
    expect(lines.some((line) => line.includes('●'))).toBe(columns >= 144);
  });
});

describe('words and numbers', () => {
  it('parseQuantity() reads fractions and units', () => {
    expect(parseQuantity('3/4in')).toEqual({ value: 0.75, unit: 'in' });
    expect(parseQuantity(' -5 °C')).toEqual({ value: -5, unit: 'c' });
    expect(parseQuantity('1/0')).toBeUndefined();
    expect(parseQuantity('ten')).toBeUndefined();
  });

  it('usualBlockCount() knows the common three and fits any other', () => {
    expect([19, 38, 51].map(usualBlockCount)).toEqual([280, 72, 48]);
    expect(usualBlockCount(100)).toBe(12);
    expect(usualBlockCount(300)).toBe(1);
  });

  it('hours and rhythms read well at every size', () => {
    expect([undefined, 0.4, 18.6, 80].map(hoursInWords)).toEqual([
      'over 30 days',
      'under 1 h',
      '19 h',
      '3.3 days',
    ]);
    expect([3.2, 1.9, 1.2, 0.7, 0.4, 0.27, 0.01].map(rhythmInWords)).toEqual([
      '3 times a day',
      'twice a day',
      'once a day',
      'once a day',
      'every 2 days',
      'every 3 days',
      'hardly ever',
    ]);
  });
});
