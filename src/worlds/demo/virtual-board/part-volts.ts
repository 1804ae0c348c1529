import type { HookupOf } from '../../../../shared/config/kit/hookup.js';

const ZERO_C_K = 273.15;

/** Two leads of 0.14 mm2 a metre, the fuse of a cable's plus lead, and a cable that nobody measured. */
const bothLeadsOhmPerM = 0.246;
const fuseOhm = 2;
const usualCableM = 3;

/** Volts at a divider's input with the probe of `probeOhm` at the end of its cable. */
function dividerVolts(
  probeOhm: number,
  { fixedOhm, side, cableM }: HookupOf<'thermistor' | 'photo-resistor'>,
  supplyVolts: number,
): number {
  const leadOhm = bothLeadsOhmPerM * (cableM ?? usualCableM) + (side === 'supply' ? fuseOhm : 0);
  const below = side === 'ground' ? probeOhm + leadOhm : fixedOhm;
  return (supplyVolts * below) / (probeOhm + leadOhm + fixedOhm);
}

/**
 * Volts of a thermistor's divider at a temperature, by the beta equation R = R25 exp(B (1/T - 1/T25)).
 * Throws RangeError for a curve given by points: the virtual board plays the beta equation only.
 */
export function thermistorVolts(
  hookup: HookupOf<'thermistor'>,
  temperatureC: number,
  supplyVolts: number,
): number {
  if (!('betaK' in hookup.curve))
    throw new RangeError(
      'the virtual board plays thermistors with a beta value; give betaK instead of points',
    );
  const { resistanceAt25Ohm, betaK } = hookup.curve;
  const ohm = resistanceAt25Ohm * Math.exp(betaK * (1 / (temperatureC + ZERO_C_K) - 1 / (25 + ZERO_C_K)));
  return dividerVolts(ohm, hookup, supplyVolts);
}

/** Volts of a photo-resistor's divider at an illuminance: R = R10 (E / 10 lx)^-gamma, as data sheets give it. */
export function photoResistorVolts(
  hookup: HookupOf<'photo-resistor'>,
  lux: number,
  supplyVolts: number,
): number {
  const ohm = hookup.resistanceAt10LxOhm * (Math.max(0.01, lux) / 10) ** -hookup.gamma;
  return dividerVolts(ohm, hookup, supplyVolts);
}

/** Volts over a phototransistor's load, never above the supply. */
export function phototransistorVolts(
  hookup: HookupOf<'phototransistor'>,
  lux: number,
  supplyVolts: number,
): number {
  return Math.min(supplyVolts, lux * hookup.microampsPerLux * 1e-6 * hookup.loadOhm);
}
