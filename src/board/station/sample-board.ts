import type { ProbeConfig } from '../../../shared/config/kit/probes.js';
import type { Clock } from '../../monitor/ports/ports.js';
import { groupBy } from '../kit/group-by.js';
import { type BoardHookup, type BoardProbe, partKey } from '../kit/hooked-probe.js';
import type { BoardLink } from '../line/board-link.js';
import { type Answer, fault } from '../parts/answer.js';
import { measureSupply } from '../readers/analog-input.js';
import {
  readCapacitiveMoisture,
  readPhotoResistor,
  readPhototransistor,
  readThermistor,
} from '../readers/analog-parts.js';
import { readBh1750, readMcp9808, readSht31 } from '../readers/i2c-parts.js';
import { readLoadCell } from '../readers/load-cell.js';
import type { Bench, PartReading, Supply } from '../readers/part-reader.js';
import type { BoardStation } from './board-station.js';
import type { DetailedSample } from './detailed-sample.js';

/** A board that answers slowly gets this long for all its probes; those that are left wait for the next sample. */
const boardLimitMs = 8_000;

export interface SampleTools {
  readonly clock: Clock;
  readonly ioClock: Clock;
  readonly signal: AbortSignal;
}

/** Reads all probes of one board: analog ones first, with probe power on just for them, then the I2C parts. */
export async function sampleBoard(
  station: BoardStation,
  probes: readonly BoardProbe[],
  tools: SampleTools,
): Promise<readonly DetailedSample[]> {
  if (probes.length === 0) return [];
  const samples = await station.withLink((link) => sampleLink(station, link, probes, tools));
  if (!('noBoard' in samples)) return samples;
  const observedAtMs = tools.clock.nowMs();
  return probes.map(({ id }) => ({
    probeId: id,
    observedAtMs,
    rawValue: undefined,
    reason: samples.noBoard,
  }));
}

async function sampleLink(
  station: BoardStation,
  link: BoardLink,
  probes: readonly BoardProbe[],
  tools: SampleTools,
): Promise<DetailedSample[]> {
  const { board } = station;
  const line = { link, board, clock: tools.clock, signal: tools.signal, scale: station.scale };
  let measured: Promise<Answer<Supply>> | undefined;
  const supply = () => {
    measured ??= measureSupply(line);
    return measured;
  };
  const bench: Bench = { ...line, supply };
  const startedMs = tools.ioClock.monotonicMs();
  const bootCount = link.bootCount;
  const samples: DetailedSample[] = [];
  const take = async (group: readonly BoardProbe[]): Promise<void> => {
    const [first] = group;
    if (first === undefined) return;
    let answer: Answer<PartReading>;
    if (link.lostBecause !== undefined) answer = fault(`the board went away: ${link.lostBecause}`);
    else if (link.restarted || link.bootCount !== bootCount)
      answer = fault('the board restarted while it was read');
    else if (link.silent) answer = fault('the board fell silent while it was read');
    else if (tools.ioClock.monotonicMs() - startedMs > boardLimitMs)
      answer = fault('the board answers too slowly; this probe was left out');
    else answer = await readPart(bench, first.hookup);
    const observedAtMs = tools.clock.nowMs();
    for (const probe of group) samples.push(sampleOf(probe, observedAtMs, answer));
  };

  const groups = [...groupBy(probes, ({ hookup }) => partKey(hookup)).values()];
  const analog = groups.filter(([probe]) => probe !== undefined && 'input' in probe.hookup);
  const power = board.probePower;
  if (analog.length > 0 && power !== undefined) {
    link.drive(power.pin, true);
    try {
      await tools.clock.sleep(power.settleMs, tools.signal);
      for (const group of analog) await take(group);
    } finally {
      link.drive(power.pin, false);
    }
  } else for (const group of analog) await take(group);
  for (const group of groups) if (!analog.includes(group)) await take(group);
  return samples;
}

async function readPart(bench: Bench, hookup: BoardHookup): Promise<Answer<PartReading>> {
  switch (hookup.part) {
    case 'capacitive-moisture':
      return await readCapacitiveMoisture(bench, hookup);
    case 'thermistor':
      return await readThermistor(bench, hookup);
    case 'photo-resistor':
      return await readPhotoResistor(bench, hookup);
    case 'phototransistor':
      return await readPhototransistor(bench, hookup);
    case 'sht31':
      return await readSht31(bench, hookup);
    case 'mcp9808':
      return await readMcp9808(bench, hookup);
    case 'bh1750':
      return await readBh1750(bench, hookup);
    case 'load-cell':
      return await readLoadCell(bench, hookup);
  }
}

function sampleOf(probe: BoardProbe, observedAtMs: number, answer: Answer<PartReading>): DetailedSample {
  if (answer.kind === 'fault')
    return { probeId: probe.id, observedAtMs, rawValue: undefined, reason: answer.reason };
  const { values, counts, volts, fault: reason } = answer.value;
  const rawValue = inUnitOf(probe, values[probe.kind]);
  const sample = { probeId: probe.id, observedAtMs, rawValue, counts, volts };
  if (reason !== undefined) return { ...sample, reason };
  if (rawValue !== undefined) return sample;
  return { ...sample, reason: `not calibrated yet: run \`drybell calibrate ${probe.id}\`` };
}

/** A part that tells lux serves a probe in W/m2 through the light's efficacy. */
function inUnitOf(probe: ProbeConfig & BoardProbe, given: number | undefined): number | undefined {
  if (given === undefined || probe.kind !== 'light' || probe.unit !== 'W/m2') return given;
  return 'luxPerWPerM2' in probe.hookup ? given / probe.hookup.luxPerWPerM2 : given;
}
