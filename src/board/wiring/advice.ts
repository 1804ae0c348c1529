import type { FarmConfig } from '../../../shared/config/farm.js';
import { isBoardProbe } from '../hooked-probe.js';

/** Wet blocks, kilogram a litre; the tray with its plants, and 10 mm of water in it (estimates for a 1020 tray). */
const blockKgPerL = 1.05;
const trayKg = 0.7;
const waterKg = 1.5;
const mm3PerL = 1e6;

/** What can be built as configured and would be better otherwise: one sentence each. */
export function wiringAdvice({ boards, probes, trays }: FarmConfig): readonly string[] {
  const said: string[] = [];
  for (const board of boards) {
    const hung = probes.filter(isBoardProbe).filter(({ hookup }) => hookup.board === board.id);
    const blades = hung.filter(({ hookup }) => hookup.part === 'capacitive-moisture');
    if (blades.length > 0 && board.reference === undefined)
      said.push(
        board.referenceVolts === undefined
          ? `Board ${board.id}: its blades are measured against a supply that nobody measures; at 4.5 V they read 16 points too dry. Add a 2.5 V reference ("reference"), or write the measured "referenceVolts".`
          : `Board ${board.id}: its blades follow the supply when it moves from ${board.referenceVolts} V; a 2.5 V reference ("reference") ends that.`,
      );
    if (hung.some(({ hookup }) => 'input' in hookup) && board.probePower === undefined)
      said.push(
        `Board ${board.id}: its analog probes are fed all day; blades corrode and thermistors warm themselves by up to 0.6 °C. Switch them ("probePower").`,
      );
    for (const { id, hookup } of hung)
      if (hookup.part === 'photo-resistor')
        said.push(
          `Probe ${id}: a photo-resistor is an index of light, off by a third to three times; a bh1750 measures lux.${
            hookup.endOhm === undefined
              ? ' Without "endOhm" (47 kΩ across it) a broken wire reads as night.'
              : ''
          }`,
        );
  }
  for (const probe of probes) {
    if (probe.kind !== 'tray-weight' || probe.hookup?.part !== 'load-cell') continue;
    const tray = trays.find(({ id }) => id === probe.tray);
    if (tray === undefined) continue;
    const kg = (tray.blockCount * tray.blockSideMm ** 3 * blockKgPerL) / mm3PerL + trayKg + waterKg;
    if (kg > probe.hookup.capacityKg)
      said.push(
        `Probe ${probe.id}: tray ${tray.id} weighs up to ${kg.toFixed(1)} kg with its water, and its cell bears ${probe.hookup.capacityKg} kg: take one of 20 kg.`,
      );
  }
  return said;
}
