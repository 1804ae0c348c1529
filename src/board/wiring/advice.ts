import type { FarmConfig } from '../../../shared/config/farm.js';
import type { BoardConfig, ThermistorCurve } from '../../../shared/config/kit/hookup.js';
import type { ProbeConfig } from '../../../shared/config/kit/probes.js';
import { type BoardProbe, isBoardProbe } from '../kit/hooked-probe.js';

/** Wet blocks, kilogram a litre; the tray with its plants, and 10 mm of water in it (estimates for a 1020 tray). */
const blockKgPerL = 1.05;
const trayKg = 0.7;
const waterKg = 1.5;
const mm3PerL = 1e6;

/**
 * A bead of more than this at 25 °C feels water in its plug: 100 kohm across 10 kohm read 2.2 °C too warm at 25 °C and
 * 4.5 at 5 °C, across 2.2 kohm 0.5 and 1.1 (computed, tests/board/circuit).
 */
const dryPlugOhm = 3000;

/** Something that can be built as configured and would be better otherwise. */
export interface Advice {
  readonly path: readonly PropertyKey[];
  readonly what: string;
  readonly sentence: string;
}

/** Resistance at the point of a curve that is nearest to 25 °C. */
function beadOhm(curve: ThermistorCurve): number {
  if ('betaK' in curve) return curve.resistanceAt25Ohm;
  const off = ({ temperatureC }: { temperatureC: number }): number => Math.abs(temperatureC - 25);
  const [nearest] = [...curve.points].sort((a, b) => off(a) - off(b));
  return nearest?.resistanceOhm ?? 0;
}

function ofBoard(board: BoardConfig, hung: readonly BoardProbe[]): string[] {
  const blades = hung.filter(({ hookup }) => hookup.part === 'capacitive-moisture');
  const said: string[] = [];
  if (blades.length > 0 && board.reference === undefined)
    said.push(
      board.referenceVolts === undefined
        ? 'its blades are measured against a supply that nobody measures; at 4.5 V they read 16 points too dry. Add a 2.5 V reference ("reference"), or write the measured "referenceVolts"'
        : `its blades follow the supply when it moves from ${board.referenceVolts} V; a 2.5 V reference ("reference") ends that`,
    );
  if (hung.some(({ hookup }) => 'input' in hookup) && board.probePower === undefined)
    said.push(
      'its analog probes are fed all day; blades corrode and thermistors warm themselves by up to 0.6 °C. Switch them ("probePower")',
    );
  return said;
}

function ofProbe(probe: ProbeConfig, trays: FarmConfig['trays']): string[] {
  const { hookup } = probe;
  if (hookup?.part === 'photo-resistor')
    return [
      `a photo-resistor is an index of light, off by a third to three times; a bh1750 measures lux${
        hookup.endOhm === undefined ? '. Without "endOhm" (47 kΩ across it) a broken wire reads as night' : ''
      }`,
    ];
  if (hookup?.part === 'thermistor' && beadOhm(hookup.curve) > dryPlugOhm)
    return [
      'water in the plug of this bead reads as up to 4.5 °C of warmth, and nothing on the wire tells it; a bead of 2.2 kΩ makes it 1.1 °C, an sht31 ends it',
    ];
  if (hookup?.part === 'load-cell' && probe.kind === 'tray-weight') {
    const tray = trays.find(({ id }) => id === probe.tray);
    if (tray === undefined) return [];
    const kg = (tray.blockCount * tray.blockSideMm ** 3 * blockKgPerL) / mm3PerL + trayKg + waterKg;
    if (kg > hookup.capacityKg)
      return [
        `tray ${tray.id} weighs up to ${kg.toFixed(1)} kg with its water, and the cell bears ${hookup.capacityKg} kg: take one of 20 kg`,
      ];
  }
  return [];
}

/** What can be built as configured and would be better otherwise, in the order of the configuration. */
export function wiringAdvice({ boards, probes, trays }: FarmConfig): readonly Advice[] {
  return [
    ...boards.flatMap((board, index) =>
      ofBoard(
        board,
        probes.filter(isBoardProbe).filter(({ hookup }) => hookup.board === board.id),
      ).map((sentence) => ({ path: ['boards', index], what: `board ${board.id}`, sentence })),
    ),
    ...probes.flatMap((probe, index) =>
      ofProbe(probe, trays).map((sentence) => ({
        path: ['probes', index],
        what: `probe ${probe.id}`,
        sentence,
      })),
    ),
  ];
}
