import { readFileSync } from 'node:fs';
import { afterEach, describe, expect, it } from 'vitest';
import { findConflicts } from '../../../src/board/wiring/conflicts/conflicts.js';
import { parseConfig } from '../../../src/cli/config/load-config.js';
import { createProbeJudge } from '../../../src/sensing/probe-judge.js';
import { buildKit, type Kit, type KitOptions, standUp, type Truth } from './kit.js';
import { solve } from './solve.js';

/** One point of moisture, volts, of a blade of usual slope (assumed). */
const pointVolts = 0.014;
const limits = { temperatureC: 0.5, lightShare: 0.05, points: 2 };
const rails = [4.5, 4.75, 5, 5.25];
const weathers = [
  { temperatureC: 0, lx: 20, bladeVolts: 1 },
  { temperatureC: 10, lx: 100, bladeVolts: 2 },
  { temperatureC: 25, lx: 1_000, bladeVolts: 2.6 },
  { temperatureC: 35, lx: 10_000, bladeVolts: 2 },
  { temperatureC: 45, lx: 100_000, bladeVolts: 1 },
];
const switched = {
  probePower: { pin: 7, through: 'load-switch', topInput: 'A4' },
  reference: { input: 'A3' },
};
const byPin = { probePower: { pin: 7, through: 'pin', topInput: 'A4' } };

const kits: Kit[] = [];
afterEach(async () => {
  for (const kit of kits.splice(0)) await kit.close();
});
async function kit(options: KitOptions): Promise<Kit> {
  const built = await buildKit(options);
  kits.push(built);
  return built;
}

interface Miss {
  temperatureC: number;
  lightShare: number;
  points: number;
}

async function miss(built: Kit, truth: Truth): Promise<Miss> {
  built.settle(truth);
  const found: Miss = { temperatureC: 0, lightShare: 0, points: 0 };
  for (const [id, { rawValue, reason }] of await built.read()) {
    if (rawValue === undefined) throw new Error(`${id}: ${reason}`);
    const kind = built.probes.find((probe) => probe.id === id)?.kind;
    if (kind === 'air-temperature') found.temperatureC = Math.abs(rawValue - truth.temperatureC);
    else if (kind === 'light') found.lightShare = Math.abs(rawValue / truth.lx - 1);
    else found.points = Math.max(found.points, Math.abs(rawValue - truth.bladeVolts) / pointVolts);
  }
  return found;
}

const worst = (a: Miss, b: Miss): Miss => ({
  temperatureC: Math.max(a.temperatureC, b.temperatureC),
  lightShare: Math.max(a.lightShare, b.lightShare),
  points: Math.max(a.points, b.points),
});
const none: Miss = { temperatureC: 0, lightShare: 0, points: 0 };

const told: string[] = [];
const tell = (what: string, { temperatureC, lightShare, points }: Miss): void => {
  told.push(
    `${what}: ${temperatureC.toFixed(2)} °C, ${(lightShare * 100).toFixed(1)} %, ${points.toFixed(2)} points`,
  );
};
afterEach(() => {
  if (process.env['DRYBELL_SHOW_ERRORS'] !== undefined) console.log(told.splice(0).join('\n'));
});

describe('the solver', () => {
  it('gives the voltages of circuits done by hand', () => {
    const nodes = solve([
      { kind: 'volts', node: 'a', volts: 5 },
      { kind: 'resistor', a: 'a', b: 'b', ohm: 1000 },
      { kind: 'resistor', a: 'b', b: 'GND', ohm: 1500 },
      { kind: 'current', from: 'GND', to: 'b', ampere: 0.001 },
    ]);
    expect(nodes.get('b')).toBeCloseTo(3 + 0.6, 6);
  });

  it('gives the counts that ngspice 39 gave for the wiring of before: blades and dividers on one pin of 30 ohm', async () => {
    // 5.0 V, NTC at ground, 5 mA a blade: counts at 0, 25 and 45 °C, top
    const before: [number, number[], number][] = [
      [1, [765, 495, 300], 992],
      [4, [694, 449, 272], 900],
    ];
    for (const [blades, counts, top] of before) {
      const built = await kit({ probePower: byPin.probePower, blades, cableM: 0, light: false });
      for (const [at, temperatureC] of [0, 25, 45].entries()) {
        built.settle({ railVolts: 5, temperatureC, lx: 1, bladeVolts: 2 });
        const seen = Math.floor((built.node('A1') * 1024) / 5);
        // the fuses and pull-downs of today are in this one: a count
        expect(Math.abs(seen - (counts[at] ?? 0))).toBeLessThanOrEqual(1);
        expect(Math.abs(Math.floor((built.node('A4') * 1024) / 5) - top)).toBeLessThanOrEqual(2);
      }
    }
  });
});

describe('a kit built as it is drawn', () => {
  it('reads the truth from 4.5 to 5.25 V, 0 to 45 °C, 0 to 8 blades, 1 to 15 m', async () => {
    for (const blades of [0, 1, 4, 8]) {
      let over = none;
      for (const cableM of [1, 5, 15]) {
        const built = await kit({ ...switched, blades, cableM });
        expect(findConflicts([built.config], built.probes)).toEqual([]);
        let atLength = none;
        for (const railVolts of rails)
          for (const weather of weathers)
            atLength = worst(atLength, await miss(built, { railVolts, ...weather }));
        tell(`${blades} blades, ${cableM} m`, atLength);
        over = worst(over, atLength);
      }
      expect(over.temperatureC).toBeLessThanOrEqual(limits.temperatureC);
      expect(over.lightShare).toBeLessThanOrEqual(limits.lightShare);
      expect(over.points).toBeLessThanOrEqual(limits.points);
    }
  });

  it.each(['one-tray', 'one-bench', 'four-benches'])(
    'reads the truth where it is the kit %s, with the lengths of its own cables',
    async (name) => {
      const file = `hardware/kits/${name}.json`;
      const { boards, probes } = parseConfig(readFileSync(file, 'utf8'), file);
      for (const board of boards) {
        const built = await standUp(board, probes);
        kits.push(built);
        expect(built.probes.length).toBeGreaterThan(0);
        let over = none;
        for (const railVolts of [4.5, 5.25])
          for (const weather of weathers) over = worst(over, await miss(built, { railVolts, ...weather }));
        tell(`${name}, ${board.id}: ${built.probes.length} analog probes`, over);
        expect(over.temperatureC).toBeLessThanOrEqual(limits.temperatureC);
        expect(over.points).toBeLessThanOrEqual(limits.points);
      }
    },
  );

  it('reads the truth from a divider on a pin, however far the pin sags', async () => {
    let over = none;
    for (const cableM of [1, 5, 15]) {
      const built = await kit({ ...byPin, blades: 0, cableM, light: false });
      expect(findConflicts([built.config], built.probes)).toEqual([]);
      for (const pinOhm of [25, 40])
        for (const railVolts of rails)
          for (const weather of weathers)
            over = worst(over, await miss(built, { railVolts, pinOhm, ...weather }));
    }
    tell('a divider on a pin', over);
    expect(over.temperatureC).toBeLessThanOrEqual(limits.temperatureC);
  });

  it('stays within half a degree and two points with parts of the tolerances that the guide asks for', async () => {
    const built = await kit({ ...switched, blades: 4, cableM: 5 });
    let over = none;
    for (const sign of [-1, 1])
      for (const beta of [-1, 1])
        for (const offCounts of [-1, 0, 1])
          for (const railVolts of [4.5, 5.25])
            for (const weather of weathers)
              over = worst(
                over,
                await miss(built, {
                  railVolts,
                  ...weather,
                  offCounts,
                  ntc: { r25: 10_000 * (1 + 0.005 * sign), beta: 3950 * (1 + 0.003 * beta) },
                  // fixed resistors of 0.1 %, other resistors of 5 %, a reference of 0.5 %
                  spread: ({ kind, amount }) =>
                    1 +
                    sign *
                      (kind === 'reference'
                        ? 0.005
                        : kind === 'resistor' && amount === 10_000
                          ? -0.001
                          : 0.05 * beta),
                }),
              );
    tell('tolerances', { ...over, lightShare: 0 });
    expect(over.temperatureC).toBeLessThanOrEqual(limits.temperatureC);
    expect(over.points).toBeLessThanOrEqual(limits.points);
  });

  it('says a fault, and no value, for a wire that is open or shorted', async () => {
    const built = await kit({ ...switched, blades: 2, cableM: 5 });
    const well = { railVolts: 4.9, temperatureC: 21, lx: 3_000, bladeVolts: 1.7 };
    const faultOf = async (id: string, what: Partial<Truth>): Promise<string | undefined> => {
      built.settle({ ...well, ...what });
      const sample = (await built.read()).get(id);
      expect(sample?.rawValue, `${id} ${JSON.stringify(what)}`).toBeUndefined();
      return sample?.reason;
    };
    const short = (a: string, b: string) => ({ faults: [{ kind: 'resistor', a, b, ohm: 0.05 } as const] });
    expect(await faultOf('m0', { cut: ['m0:OUT'] })).toContain('a wire is off');
    expect(await faultOf('m0', { cut: ['m0:VCC', 'm0:GND', 'm0:OUT'] })).toContain('a wire is off');
    expect(await faultOf('m0', short('m0:OUT', 'm0:GND'))).toContain('shorted to GND');
    expect(await faultOf('m0', short('m0:OUT', 'm0:VCC'))).toContain('bridged');
    for (const terminal of ['OUT', 'GND']) {
      expect(await faultOf('temp', { cut: [`temp:${terminal}`] })).toContain('open or shorted');
      expect(await faultOf('light', { cut: [`light:${terminal}`] })).toContain('is open');
    }
    expect(await faultOf('temp', short('temp:OUT', 'temp:GND'))).toContain('open or shorted');
    expect(await faultOf('light', short('light:OUT', 'light:GND'))).toContain('shorted');
    // a fault on one cable leaves the others alone
    built.settle({ ...well, ...short('m0:VCC', 'm0:GND') });
    const others = await built.read();
    expect(others.get('temp')?.rawValue).toBeCloseTo(21, 0);
  });

  it('a wet plug, 100 kΩ from VCC to OUT, is flagged and not believed; the bead of a thermistor can not tell water from warmth', async () => {
    const built = await kit({ ...switched, blades: 1, cableM: 5 });
    const calibration = [
      { volts: 2.6, waterContentM3PerM3: 0.15 },
      { volts: 1, waterContentM3PerM3: 0.6 },
    ];
    const probe = built.probes.find(({ id }) => id === 'm0');
    if (probe?.kind !== 'block-moisture') throw new Error('m0 is a blade');
    const judge = createProbeJudge({ ...probe, calibration });
    const leak = (from: string, to: string) => ({ kind: 'resistor', a: from, b: to, ohm: 100_000 }) as const;
    const well = { railVolts: 5, temperatureC: 25, lx: 3_000, bladeVolts: 1.4 };
    const minuteMs = 60_000;
    const blade = async (what: Partial<Truth>) => {
      built.settle({ ...well, ...what });
      return await built.read();
    };
    for (let minute = 0; minute < 30; minute++)
      expect(judge.judge(minute * minuteMs, (await blade({})).get('m0')?.rawValue).flag).toBeLessThanOrEqual(
        2,
      );
    const wet = await blade({ faults: [leak('m0:VCC', 'm0:OUT'), leak('temp:OUT', 'temp:GND')] });
    const volts = wet.get('m0')?.rawValue ?? 0;
    expect((volts - 1.4) / pointVolts).toBeGreaterThan(15);
    for (let minute = 30; minute < 90; minute++)
      expect(judge.judge(minute * minuteMs, volts).flag).toBeGreaterThanOrEqual(3);
    expect(wet.get('temp')?.rawValue).toBeCloseTo(27.2, 1);
  });

  it('water in the plug of a bead: a small bead hardly feels it, and the guide says how much', async () => {
    const rows: string[] = [];
    for (const leakOhm of [1_000_000, 100_000, 30_000]) {
      const errors: string[] = [];
      for (const beadOhm of [10_000, 2_200])
        for (const temperatureC of [5, 25]) {
          const built = await kit({ ...switched, blades: 0, cableM: 5, light: false, beadOhm });
          built.settle({
            railVolts: 5,
            temperatureC,
            lx: 1,
            bladeVolts: 1,
            faults: [{ kind: 'resistor', a: 'temp:OUT', b: 'temp:GND', ohm: leakOhm }],
          });
          const { rawValue = Number.NaN } = (await built.read()).get('temp') ?? {};
          errors.push((rawValue - temperatureC).toFixed(1));
        }
      rows.push(`| ${leakOhm / 1000} kΩ | ${errors.join(' | ')} |`);
    }
    const guide = readFileSync('hardware/README.md', 'utf8');
    for (const row of rows) expect(guide).toContain(row);
  });
});
