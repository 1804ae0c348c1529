import type { FarmConfig } from '../../../../shared/config/farm.js';
import { createSpeech } from '../../../watering/sentences/speech.js';
import { expectedOf, quantityOf } from '../../terminal/typed/quantities.js';

/** How one calibration writes and reads weights. */
export interface Weights {
  /** Which a bare number is in. */
  readonly unit: string;
  readonly read: (text: string) => number | undefined;
  readonly expected: string;
  readonly told: (g: number) => string;
}

/** @param of a block weighs ounces where the farm weighs its trays in pounds, and is told as finely as its scale shows */
export function weightsOf({ timeZone, units }: FarmConfig, of: 'block' | 'tray'): Weights {
  const weight = of === 'block' && units.weight === 'lb' ? 'oz' : units.weight;
  const { words } = createSpeech({ timeZone, units: { ...units, weight } });
  return {
    unit: weight,
    read: (text) => quantityOf('weight', text, { ...units, weight }),
    expected:
      of === 'block'
        ? `a weight such as ${weight === 'g' ? '64.9 g' : '2.29 oz'}`
        : expectedOf('weight', units),
    told: of === 'block' ? words.fineWeight : words.weight,
  };
}
