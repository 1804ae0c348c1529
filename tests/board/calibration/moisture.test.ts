import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PassThrough, Readable } from 'node:stream';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { farmConfigSchema } from '../../../shared/config/farm.js';
import { unitsSchema } from '../../../shared/config/notices.js';
import { fitMoisture, pointsOf } from '../../../src/board/calibration/moisture-fit.js';
import {
  type MoistureSession,
  nextStep,
  takeWeighing,
  type Weighing,
} from '../../../src/board/calibration/moisture-session.js';
import { calibrateMoisture } from '../../../src/cli/kit/calibration/calibrate-moisture.js';
import type { Measured } from '../../../src/cli/kit/calibration/measure-probe.js';
import type { Dialogue } from '../../../src/cli/terminal/dialogue/dialogue.js';
import { terminalDialogue } from '../../../src/cli/terminal/dialogue/terminal-dialogue.js';

const at = '2026-04-18T07:00:00Z';
const start: MoistureSession = { probe: 'moist-t1', blockSideMm: 38, tareG: 20, weighings: [] };
/** A 38 mm block is 54.9 mL; dry it weighs 12 g here, full 12 + 0.6 · 54.9 = 44.9 g. */
const weighings: readonly Weighing[] = [
  { step: 'full', at, scaleG: 64.9, volts: 1.3 },
  { step: 'drying', at, scaleG: 56, volts: 1.6 },
  { step: 'drying', at, scaleG: 48, volts: 1.92 },
  { step: 'drying', at, scaleG: 42, volts: 2.2 },
  { step: 'dry', at, scaleG: 32 },
];

function taken(session: MoistureSession, weighing: Weighing): MoistureSession {
  const result = takeWeighing(session, weighing, (g) => `${g} g`);
  if (result.kind === 'refused') throw new Error(result.reason);
  return result.session;
}

function refusal(session: MoistureSession, weighing: Weighing): string {
  const result = takeWeighing(session, weighing, (g) => `${g} g`);
  return result.kind === 'refused' ? result.reason : 'taken';
}

describe('a gravimetric calibration', () => {
  it('asks for full, two drying weighings or more, and dry, in this order', () => {
    let session = start;
    const asked: string[] = [];
    for (const weighing of weighings) {
      asked.push(nextStep(session));
      session = taken(session, weighing);
    }
    expect(asked).toEqual(['full', 'drying', 'drying', 'dry', 'dry']);
    expect(nextStep(session)).toBe('done');
  });

  it('gives water content as (mass − dry mass) / volume, the tare cancelling', () => {
    const session = weighings.reduce(taken, start);
    const points = pointsOf(session);
    expect(points[0]).toEqual({ volts: 1.3, waterContentM3PerM3: 0.5996 });
    const heavierDish = {
      ...session,
      tareG: 25,
      weighings: session.weighings.map((one) => ({ ...one, scaleG: one.scaleG + 5 })),
    };
    expect(pointsOf(heavierDish)).toEqual(points);
    const fit = fitMoisture(session);
    expect(fit.kind).toBe('fit');
    if (fit.kind !== 'fit') return;
    expect(fit.residualRmsM3PerM3).toBeLessThan(0.02);
    expect(fit.worstLeftOutM3PerM3).toBeGreaterThan(0);
  });

  it('refuses weights that can not be, and says what to check', () => {
    const [full, drying] = weighings as [Weighing, Weighing];
    expect(refusal(start, { ...full, scaleG: 19 })).toContain('weigh more than the tare of 20 g');
    expect(refusal(start, { ...full, scaleG: 649 })).toContain('not what a full block of this size weighs');
    expect(refusal(start, drying)).toContain('next is the full weighing');
    const after = taken(start, full);
    expect(refusal(after, { ...drying, scaleG: 66 })).toContain('a drying block only loses weight');
    expect(refusal(after, { ...drying, volts: 1.301 })).toContain('push it in again');
    expect(refusal(after, { step: 'drying', at, scaleG: 56 })).toContain('drybell probes');
    expect(refusal(after, { step: 'dry', at, scaleG: 32 })).toContain('dry comes later');
    const dried = weighings.slice(0, 4).reduce(taken, start);
    expect(refusal(dried, { step: 'dry', at, scaleG: 20.5 })).toContain('not what a dry block');
    expect(refusal(weighings.reduce(taken, start), full)).toContain('--restart');
  });

  it('gives no curve when the probe turned round in between', () => {
    const turned = weighings.map((one, index) => (index === 2 ? { ...one, volts: 1.1 } : one));
    const fit = fitMoisture({ ...start, weighings: turned });
    if (fit.kind === 'fit') expect(fit.worstLeftOutM3PerM3).toBeGreaterThan(0.1);
    else expect(fit.reason.length).toBeGreaterThan(10);
  });
});

describe('terminalDialogue()', () => {
  it('keeps lines that come early for the question they answer, and answers nothing after the end', async () => {
    const output = new PassThrough();
    const dialogue = terminalDialogue(Readable.from(['20\n', ' 64.9 \n']), output);
    expect(await dialogue.ask('tare? ')).toBe('20');
    expect(await dialogue.ask('weight? ')).toBe('64.9');
    expect(await dialogue.ask('more? ')).toBeUndefined();
    dialogue.close();
  });
});

describe('calibrateMoisture()', () => {
  let folder = '';
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'drybell-calibrate-'));
  });
  afterEach(() => rmSync(folder, { recursive: true }));

  const farm = farmConfigSchema.parse({
    farm: 'alder-row',
    benches: [{ id: 'south' }],
    trays: [{ id: 't1', bench: 'south', blockSideMm: 38, blockCount: 72 }],
    probes: [{ id: 'moist-t1', kind: 'block-moisture', tray: 't1' }],
  });
  const probe = farm.probes[0];
  if (probe?.kind !== 'block-moisture') throw new Error('expected the moisture probe');

  function sitting(answers: readonly string[], volts: readonly number[], undo = false, of = farm) {
    const said: string[] = [];
    const left = [...answers];
    const readings = [...volts];
    const dialogue: Dialogue = {
      say: (text) => said.push(text),
      ask: async () => left.shift(),
    };
    const measure = async (): Promise<Measured> => {
      const next = readings.shift();
      return next === undefined
        ? { kind: 'failed', reason: 'nothing answers' }
        : { kind: 'measured', volts: next, counts: Math.round((next * 1024) / 5) };
    };
    const file = join(folder, 'calibration-moist-t1.json');
    const run = calibrateMoisture({
      farm: of,
      probe: probe as never,
      file,
      dialogue,
      measure,
      nowMs: () => Date.parse(at),
      undo,
    });
    return { run, said, file };
  }

  it('goes on where it stopped, over several sittings, and ends with a curve', async () => {
    const first = sitting(['20', '64,9 g', ''], [1.3]);
    expect(await first.run).toBeUndefined();
    expect(JSON.parse(readFileSync(first.file, 'utf8')).weighings).toHaveLength(1);
    const second = sitting(['56', '48.0', ''], [1.6, 1.92]);
    expect(await second.run).toBeUndefined();
    expect(second.said.join('\n')).toContain('64.9 g');
    const third = sitting(['42', 'dry 32'], [2.2]);
    const fit = await third.run;
    expect(fit).toMatchObject({ kind: 'fit' });
    expect(third.said.join('\n')).toMatch(/Residual 0\.\d+ m3\/m3/);
  });

  it('weighs in ounces where the farm weighs in pounds', async () => {
    const american = { ...farm, units: unitsSchema.parse({ weight: 'lb' }) };
    const first = sitting(['0.7', '2.29', '2.4', ''], [1.3, 1.5], false, american);
    expect(await first.run).toBeUndefined();
    const { tareG, weighings: taken } = JSON.parse(readFileSync(first.file, 'utf8'));
    // 1 oz = 28.349523125 g (NIST Handbook 44, appendix C)
    expect(tareG).toBeCloseTo(19.845, 3);
    expect(taken[0].scaleG).toBeCloseTo(64.92, 2);
    expect(first.said.join('\n')).toContain('Taken: 2.29 oz at 1.300 V.');
    expect(first.said.join('\n')).toContain('2.4 oz after 2.29 oz: a drying block only loses weight');
  });

  it('takes nothing when the probe does not answer or the weight is no number, and can take one back', async () => {
    const first = sitting(['20', 'heavy', '64.9', '64.9', ''], [] as number[]);
    expect(await first.run).toBeUndefined();
    expect(first.said.join('\n')).toContain('"heavy" is no weight');
    expect(first.said.join('\n')).toContain('Not taken: nothing answers.');
    await sitting(['64.9', '56', ''], [1.3, 1.6]).run;
    const undone = sitting([''], [], true);
    await undone.run;
    expect(JSON.parse(readFileSync(undone.file, 'utf8')).weighings).toHaveLength(1);
  });
});
