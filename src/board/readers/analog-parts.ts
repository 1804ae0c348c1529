import type { HookupOf } from '../../../shared/config/kit/hookup.js';
import { dividerOhm } from '../parts/adc.js';
import { type Answer, value } from '../parts/answer.js';
import { inSeriesOhm } from '../parts/lead.js';
import { photoResistorLx, phototransistorLx } from '../parts/light.js';
import { steinhartHartOf, thermistorC } from '../parts/thermistor.js';
import { type InputReading, readInput } from './analog-input.js';
import type { Bench, PartReading } from './part-reader.js';

/** A blade's output lies between these; under it the 10 Mohm at its input show an open wire, over it plug or cable is bridged. */
const bladeLeastVolts = 0.2;
const bladeMostShare = 0.92;
/** No air on a bench is beyond these, °C: what reads so is an open or a shorted wire. */
const airC = { least: -40, most: 80 } as const;
/** A photo-resistor in full sun has 20 ohm; what is under this is a short (judgement). */
const shortOhm = 3;
/** An intact end resistor reads at most itself; beyond this many times it the wire is open (judgement: a count is worth half of it). */
const openTimes = 3;

type Made = { readonly value: number } | { readonly fault: string };

async function readThrough(
  bench: Bench,
  input: string,
  kind: 'block-moisture' | 'air-temperature' | 'light',
  make: (reading: InputReading) => Made,
): Promise<Answer<PartReading>> {
  const answer = await readInput(bench, input);
  if (answer.kind === 'fault') return answer;
  const { counts, volts } = answer.value;
  const made = make(answer.value);
  return value(
    'fault' in made
      ? { values: {}, counts, volts, fault: made.fault }
      : { values: { [kind]: made.value }, counts, volts },
  );
}

/** Volts of a capacitive moisture probe; calibration turns them into water content later. */
export function readCapacitiveMoisture(
  bench: Bench,
  { input }: HookupOf<'capacitive-moisture'>,
): Promise<Answer<PartReading>> {
  return readThrough(bench, input, 'block-moisture', ({ volts, supplyVolts }) => {
    if (volts < bladeLeastVolts)
      return { fault: `the blade on ${input} gives ${volts.toFixed(2)} V: a wire is off, or shorted to GND` };
    if (volts > supplyVolts * bladeMostShare)
      return { fault: `the blade on ${input} gives its own supply: OUT and VCC are bridged, look for water` };
    return { value: volts };
  });
}

export function readThermistor(bench: Bench, hookup: HookupOf<'thermistor'>): Promise<Answer<PartReading>> {
  return readThrough(bench, hookup.input, 'air-temperature', ({ counts, ratio }) => {
    const ohm = (dividerOhm(ratio, hookup.fixedOhm, hookup.side) ?? 0) - inSeriesOhm(hookup);
    const temperatureC = ohm > 0 ? thermistorC(ohm, steinhartHartOf(hookup.curve)) : Number.NaN;
    if (temperatureC > airC.least && temperatureC < airC.most) return { value: temperatureC };
    return {
      fault: `the thermistor on ${hookup.input} reads ${Math.round(counts)} counts: its wire is open or shorted, or probe power is off`,
    };
  });
}

export function readPhotoResistor(
  bench: Bench,
  hookup: HookupOf<'photo-resistor'>,
): Promise<Answer<PartReading>> {
  const { input, endOhm, fixedOhm, side } = hookup;
  return readThrough(bench, input, 'light', ({ counts, ratio }) => {
    const isEnd = side === 'ground' ? counts >= bench.link.largestCounts : counts < 1;
    const seen = dividerOhm(ratio, fixedOhm, side);
    const ohm = seen === undefined || isEnd ? Number.POSITIVE_INFINITY : seen - inSeriesOhm(hookup);
    if (ohm < shortOhm)
      return {
        fault: `the photo-resistor on ${input} reads ${Math.round(counts)} counts: its wire is shorted`,
      };
    if (endOhm !== undefined && ohm > endOhm * openTimes)
      return { fault: `the photo-resistor on ${input} reads ${Math.round(counts)} counts: its wire is open` };
    const alone = endOhm === undefined ? ohm : 1 / Math.max(0, 1 / ohm - 1 / endOhm);
    return {
      value: Number.isFinite(alone) ? photoResistorLx(alone, hookup.resistanceAt10LxOhm, hookup.gamma) : 0,
    };
  });
}

export function readPhototransistor(
  bench: Bench,
  hookup: HookupOf<'phototransistor'>,
): Promise<Answer<PartReading>> {
  const { input, loadOhm } = hookup;
  return readThrough(bench, input, 'light', ({ counts, volts }) =>
    counts >= bench.link.largestCounts
      ? {
          fault: `the phototransistor on ${input} is saturated; take a load resistor smaller than ${loadOhm} ohm`,
        }
      : { value: phototransistorLx(volts, loadOhm, hookup.microampsPerLux) },
  );
}
