import { describe, expect, it } from 'vitest';
import { probesReportSchema } from '../../shared/cli-reports.js';
import { probeSchema } from '../../shared/config/kit/probes.js';
import { unitsSchema } from '../../shared/config/notices.js';
import { measureProbe } from '../../src/cli/kit/calibration/measure-probe.js';
import { isAllWell, probesReport } from '../../src/cli/kit/watching/probes-report.js';
import { type ProbesSeen, probesPage, watchProbes } from '../../src/cli/kit/watching/watch-probes.js';
import { createSpeech } from '../../src/watering/sentences/speech.js';
import { Sht31Model } from './virtual/i2c-parts.js';
import { moistureOn, readyRig } from './virtual/rig.js';
import { voltsForCounts } from './virtual/uno.js';

const calibration = [
  { volts: 2.21, waterContentM3PerM3: 0.155 },
  { volts: 1.33, waterContentM3PerM3: 0.581 },
];
const configured = [
  { ...moistureOn('A0'), calibration },
  moistureOn('A1', 'moist-t2'),
  { id: 'temp-south', kind: 'air-temperature', bench: 'south', hookup: { part: 'sht31', board: 'b1' } },
  {
    id: 'temp-low',
    kind: 'air-temperature',
    bench: 'south',
    hookup: { part: 'mcp9808', board: 'b1' },
  },
];

const { words } = createSpeech({ timeZone: 'UTC', units: unitsSchema.parse({}) });

describe('drybell probes', () => {
  it('shows counts, volts, value and verdict of each probe, and why there is none', async () => {
    const rig = await readyRig({ probes: configured });
    rig.plugged.uno.analogV = (channel) => voltsForCounts(channel === 0 ? 360 : 300);
    rig.plugged.uno.bus.parts.push(new Sht31Model(() => rig.time.monotonicMs()));
    const seen: ProbesSeen[] = [];
    await rig.time.until(
      watchProbes({
        reader: rig.reader,
        probes: configured.map((probe) => probeSchema.parse(probe)),
        clock: rig.time,
        everyMs: 2_000,
        times: 2,
        show: (one) => seen.push(one),
        signal: new AbortController().signal,
      }),
    );
    const shown = seen.map((one) => probesPage(one, words));
    expect(shown).toHaveLength(2);
    const lines = (shown[1] ?? '').split('\n').map((line) => line.split(/ {2,}/));
    expect(lines[0]).toEqual(['probe', 'counts', 'volts', 'value', 'reading', 'verdict']);
    expect(lines[1]?.slice(0, 3)).toEqual(['moist-t1', '360', '1.760']);
    expect(lines[1]?.[3]).toMatch(/^0\.3\d\d m3\/m3$/);
    expect(lines[2]?.slice(0, 4)).toEqual(['moist-t2', '300', '1.467', 'not calibrated']);
    expect(shown[1]).toMatch(/temp-south .*25\.0 °C/);
    expect(shown[1]).toMatch(/temp-low .*no answer .*nothing answers at I2C address 0x18/);
    const report = probesReportSchema.parse(
      JSON.parse(JSON.stringify(probesReport('alder-row', seen[1] ?? { atMs: 0, boards: [], probes: [] }))),
    );
    expect(report.boards).toMatchObject([{ board: 'b1', state: 'ready' }]);
    expect(report.probes).toMatchObject([
      { probe: 'moist-t1', adcCounts: 360, rawUnit: 'V', counts: true, ok: true },
      { probe: 'moist-t2', adcCounts: 300, ok: true },
      { probe: 'temp-south', rawValue: 25, rawUnit: 'Cel', ok: true },
      { probe: 'temp-low', flag: 9, counts: false, ok: false, doubt: 'no-answer' },
    ]);
    expect(report.probes[3]?.reason).toContain('0x18');
    expect(seen.map(isAllWell)).toEqual([false, false]);
    await rig.close();
  });

  it('measureProbe() takes the median of five steady readings, and refuses unsteady ones', async () => {
    const rig = await readyRig({ probes: configured });
    const measure = () =>
      rig.time.until(
        measureProbe(rig.reader, probeSchema.parse(configured[0]), rig.time, new AbortController().signal),
      );
    let reading = 0;
    rig.plugged.uno.analogV = () => voltsForCounts(400 + (Math.floor(reading++ / 5) % 3));
    expect(await measure()).toMatchObject({ kind: 'measured', counts: 401 });
    rig.plugged.uno.analogV = () => voltsForCounts(400 + 10 * Math.floor(reading++ / 5));
    expect(await measure()).toMatchObject({ kind: 'failed', reason: expect.stringContaining('not steady') });
    await rig.close();
  });
});
