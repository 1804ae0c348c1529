import type { HookupOf } from '../../../shared/config/kit/hookup.js';
import { readI2c, writeI2c } from '../line/i2c.js';
import { type Answer, fault, value } from '../parts/answer.js';
import {
  bh1750Commands,
  bh1750LongestTime,
  bh1750MeasureMs,
  bh1750ShortestTime,
  decodeBh1750,
} from '../parts/bh1750.js';
import {
  decodeMcp9808,
  mcp9808Maker,
  mcp9808MakerRegister,
  mcp9808TemperatureRegister,
} from '../parts/mcp9808.js';
import { decodeSht31, sht31MeasureCommand, sht31MeasureMs, sht31ReplyBytes } from '../parts/sht31.js';
import type { Bench, PartReading } from './part-reader.js';

export async function readSht31(bench: Bench, hookup: HookupOf<'sht31'>): Promise<Answer<PartReading>> {
  const address = Number(hookup.address);
  writeI2c(bench.link, address, sht31MeasureCommand);
  await bench.clock.sleep(sht31MeasureMs, bench.signal);
  const reply = await readI2c(bench.link, address, undefined, sht31ReplyBytes);
  if (reply.kind === 'fault') return reply;
  const air = decodeSht31(reply.value);
  if (air.kind === 'fault') return air;
  const { temperatureC, relativeHumidityPct } = air.value;
  return value({ values: { 'air-temperature': temperatureC, 'relative-humidity': relativeHumidityPct } });
}

export async function readMcp9808(bench: Bench, hookup: HookupOf<'mcp9808'>): Promise<Answer<PartReading>> {
  const address = Number(hookup.address);
  const maker = await readI2c(bench.link, address, mcp9808MakerRegister, mcp9808Maker.length);
  if (maker.kind === 'fault') return maker;
  if (maker.value.some((byte, index) => byte !== mcp9808Maker[index]))
    return fault(`what answers at I2C address ${hookup.address} is not an MCP9808`);
  const reply = await readI2c(bench.link, address, mcp9808TemperatureRegister, 2);
  if (reply.kind === 'fault') return reply;
  const temperatureC = decodeMcp9808(reply.value);
  if (temperatureC.kind === 'fault') return temperatureC;
  return value({ values: { 'air-temperature': temperatureC.value } });
}

export async function readBh1750(bench: Bench, hookup: HookupOf<'bh1750'>): Promise<Answer<PartReading>> {
  const address = Number(hookup.address);
  const bright = await measureBh1750(bench, address, bh1750ShortestTime);
  if (bright.kind === 'fault') return bright;
  if (bright.value > dimLx) return value({ values: { light: bright.value } });
  const dim = await measureBh1750(bench, address, bh1750LongestTime);
  if (dim.kind === 'fault') return dim;
  return value({ values: { light: dim.value } });
}

/** Under this light the part is asked again with its longest time: 0.2 lx a count instead of 1.9. */
const dimLx = 1000;

async function measureBh1750(bench: Bench, address: number, time: number): Promise<Answer<number>> {
  for (const command of bh1750Commands(time)) writeI2c(bench.link, address, command);
  await bench.clock.sleep(bh1750MeasureMs(time), bench.signal);
  const reply = await readI2c(bench.link, address, undefined, 2);
  return reply.kind === 'fault' ? reply : decodeBh1750(reply.value, time);
}
