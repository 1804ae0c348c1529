import type { HookupOf } from '../../../shared/config/hookup.js';
import { type Answer, fault, value } from '../answer.js';
import { dividerOhm } from '../parts/adc.js';
import { photoResistorLx, phototransistorLx } from '../parts/light.js';
import { steinhartHartOf, thermistorC } from '../parts/thermistor.js';
import { readInput } from './analog-input.js';
import type { Bench, PartReading } from './part-reader.js';

/** Volts of a capacitive moisture probe; calibration turns them into water content later. */
export async function readCapacitiveMoisture(
  bench: Bench,
  hookup: HookupOf<'capacitive-moisture'>,
): Promise<Answer<PartReading>> {
  const answer = await readInput(bench, hookup.input);
  if (answer.kind === 'fault') return answer;
  const { counts, volts } = answer.value;
  return value({ values: { 'block-moisture': volts }, counts, volts });
}

export async function readThermistor(
  bench: Bench,
  hookup: HookupOf<'thermistor'>,
): Promise<Answer<PartReading>> {
  const answer = await readInput(bench, hookup.input);
  if (answer.kind === 'fault') return answer;
  const { counts, volts, ratio } = answer.value;
  const ohm =
    counts >= bench.link.largestCounts ? undefined : dividerOhm(ratio, hookup.fixedOhm, hookup.side);
  if (ohm === undefined)
    return fault(
      `the thermistor on ${hookup.input} reads ${counts} counts: its wire is open or shorted, or probe power is off`,
    );
  const temperatureC = thermistorC(ohm, steinhartHartOf(hookup.curve));
  return value({ values: { 'air-temperature': temperatureC }, counts, volts });
}

export async function readPhotoResistor(
  bench: Bench,
  hookup: HookupOf<'photo-resistor'>,
): Promise<Answer<PartReading>> {
  const answer = await readInput(bench, hookup.input);
  if (answer.kind === 'fault') return answer;
  const { counts, volts, ratio } = answer.value;
  const isDark = hookup.side === 'ground' ? counts >= bench.link.largestCounts : counts === 0;
  if (isDark) return value({ values: { light: 0 }, counts, volts });
  const ohm = dividerOhm(ratio, hookup.fixedOhm, hookup.side);
  if (ohm === undefined)
    return fault(`the photo-resistor on ${hookup.input} reads ${counts} counts: its wire is shorted`);
  const lx = photoResistorLx(ohm, hookup.resistanceAt10LxOhm, hookup.gamma);
  return value({ values: { light: lx }, counts, volts });
}

export async function readPhototransistor(
  bench: Bench,
  hookup: HookupOf<'phototransistor'>,
): Promise<Answer<PartReading>> {
  const answer = await readInput(bench, hookup.input);
  if (answer.kind === 'fault') return answer;
  const { counts, volts } = answer.value;
  if (counts >= bench.link.largestCounts)
    return fault(
      `the phototransistor on ${hookup.input} is saturated; take a load resistor smaller than ${hookup.loadOhm} ohm`,
    );
  const lx = phototransistorLx(volts, hookup.loadOhm, hookup.microampsPerLux);
  return value({ values: { light: lx }, counts, volts });
}
