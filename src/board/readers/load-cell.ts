import type { HookupOf } from '../../../shared/config/kit/hookup.js';
import { median } from '../../numbers/median.js';
import { readI2c, writeI2c } from '../line/i2c.js';
import { type Answer, fault, value } from '../parts/answer.js';
import { gramsOfCounts, withoutCreep } from '../parts/load-cell.js';
import {
  calibrationBusyBit,
  calibrationFailedBit,
  conversionMs,
  decodeNau7802,
  gainRegister,
  gainSetting,
  nau7802Address,
  poweredUpBit,
  powerRegister,
  rateRegister,
  resultReadyBit,
  resultRegister,
  runningBits,
  wakeSteps,
} from '../parts/nau7802.js';
import type { Bench, PartReading } from './part-reader.js';

/** Conversions per reading; their median counts. */
const conversionCount = 3;

/** Grams on a tray scale: the converter is woken when it is not running, as after a power dip. */
export async function readLoadCell(
  bench: Bench,
  hookup: HookupOf<'load-cell'>,
): Promise<Answer<PartReading>> {
  const running = await isRunning(bench);
  if (running.kind === 'fault') return running;
  if (!running.value) {
    const woken = await wake(bench);
    if (woken.kind === 'fault') return woken;
  }
  const counts = await medianCounts(bench);
  if (counts.kind === 'fault') return counts;
  const { zeroCounts, countsPerG, creep } = hookup;
  if (zeroCounts === undefined || countsPerG === undefined || countsPerG === 0)
    return value({ values: {}, counts: counts.value });
  const shownG = gramsOfCounts(counts.value, { zeroCounts, countsPerG });
  if (creep === undefined) return value({ values: { 'tray-weight': shownG }, counts: counts.value });
  const { loadG, state } = withoutCreep(shownG, bench.clock.nowMs(), bench.scale.creep, creep);
  bench.scale.creep = state;
  return value({ values: { 'tray-weight': loadG }, counts: counts.value });
}

async function readRegister(bench: Bench, register: number): Promise<Answer<number>> {
  const reply = await readI2c(bench.link, nau7802Address, register, 1);
  return reply.kind === 'fault' ? reply : value(reply.value[0] ?? 0);
}

async function isRunning(bench: Bench): Promise<Answer<boolean>> {
  const power = await readRegister(bench, powerRegister);
  if (power.kind === 'fault') return power;
  const gain = await readRegister(bench, gainRegister);
  if (gain.kind === 'fault') return gain;
  return value((power.value & runningBits) === runningBits && gain.value === gainSetting);
}

async function wake(bench: Bench): Promise<Answer<void>> {
  for (const { writes, waitMs } of wakeSteps) {
    for (const write of writes) writeI2c(bench.link, nau7802Address, write);
    await bench.clock.sleep(waitMs, bench.signal);
  }
  const power = await readRegister(bench, powerRegister);
  if (power.kind === 'fault') return power;
  if ((power.value & poweredUpBit) === 0)
    return fault("the scale's converter does not power up; check its supply");
  const calibrated = await readRegister(bench, rateRegister);
  if (calibrated.kind === 'fault') return calibrated;
  if ((calibrated.value & (calibrationBusyBit | calibrationFailedBit)) !== 0)
    return fault("the scale's converter could not calibrate itself; check the bridge's four wires");
  writeI2c(bench.link, nau7802Address, [powerRegister, runningBits]);
  return value(undefined);
}

async function medianCounts(bench: Bench): Promise<Answer<number>> {
  const all: number[] = [];
  while (all.length < conversionCount) {
    await bench.clock.sleep(conversionMs, bench.signal);
    const power = await readRegister(bench, powerRegister);
    if (power.kind === 'fault') return power;
    if ((power.value & resultReadyBit) === 0) return fault("the scale's converter has stopped converting");
    const reply = await readI2c(bench.link, nau7802Address, resultRegister, 3);
    if (reply.kind === 'fault') return reply;
    const counts = decodeNau7802(reply.value);
    if (counts.kind === 'fault') return counts;
    all.push(counts.value);
  }
  return value(median(all));
}
