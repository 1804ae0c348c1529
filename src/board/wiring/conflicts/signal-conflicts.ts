import type { BoardConfig } from '../../../../shared/config/kit/hookup.js';
import { boardModels } from '../../kit/board-models.js';
import { groupBy } from '../../kit/group-by.js';
import type { BoardProbe } from '../../kit/hooked-probe.js';
import { cableMOf } from '../../parts/lead.js';
import { ohmText } from '../cards/component.js';
import { addressText, i2cAddress, longestAnalogM, longestBusM, partFacts } from '../cards/part-facts.js';
import { busM } from '../cards/power-cards.js';
import type { Conflict } from './conflict.js';
import { list } from './list.js';

/** Resistors with which a photo-resistor tells daylight from shade: 2 % a count at 80,000 lx with 330 ohm, 5 % with 1 kohm. */
const daylightOhm = { least: 220, most: 1000 } as const;
/** A measured supply further than this from the nominal one is a slip of the pen or of the meter (judgement). */
const referenceSlack = 1.1;

/** Signals that a board's pins do not bear, or that would tell something else than they seem to. */
export function signalConflicts(board: BoardConfig, hung: readonly BoardProbe[]): Conflict[] {
  return [
    ...hung.flatMap((probe) => [...voltageConflicts(board, probe), ...cableConflicts(board, probe)]),
    ...referenceConflicts(board),
    ...busLength(board, hung),
    ...addressClashes(board, hung),
  ];
}

function voltageConflicts(board: BoardConfig, { id, hookup }: BoardProbe): Conflict[] {
  const { logicVolts } = boardModels[board.model];
  const conflicts: Conflict[] = [];
  if (logicVolts === 3.3 && hookup.supplyVolts === 5)
    conflicts.push({
      kind: 'five-volts-into-three',
      boardId: board.id,
      place: { probeId: id, keys: ['hookup', 'supplyVolts'] },
      problem: `probe ${id} is fed with 5 V, and its signal goes into a 3.3 V board`,
      remedy:
        'input' in hookup
          ? 'feed it from 3V3 (supplyVolts 3.3); if it needs 5 V, bring its signal down with 10 kΩ in series and 18 kΩ to GND'
          : 'feed it from 3V3 (supplyVolts 3.3); if it needs 5 V, put a two-way level shifter into SDA and SCL',
    });
  if (logicVolts === 5 && hookup.supplyVolts === 3.3 && 'side' in hookup)
    conflicts.push({
      kind: 'three-volts-on-five',
      boardId: board.id,
      place: { probeId: id, keys: ['hookup', 'supplyVolts'] },
      problem: `the divider of probe ${id} is fed with 3.3 V, and the board compares it with 5 V: 25 °C would read 42`,
      remedy: 'leave supplyVolts away: a divider hangs on the same supply as the board',
    });
  if (
    hookup.part === 'photo-resistor' &&
    (hookup.fixedOhm < daylightOhm.least || hookup.fixedOhm > daylightOhm.most)
  )
    conflicts.push({
      kind: 'light-too-coarse',
      boardId: board.id,
      place: { probeId: id, keys: ['hookup', 'fixedOhm'] },
      problem: `the photo-resistor of probe ${id} has ${ohmText(hookup.fixedOhm)} beside it: in daylight one count of the board would be ten per cent of the light and more`,
      remedy: 'solder in 330 to 470 Ω and write it as "fixedOhm", or take a bh1750, which measures lux',
    });
  return conflicts;
}

function cableConflicts(board: BoardConfig, { id, hookup }: BoardProbe): Conflict[] {
  if (!('input' in hookup) || cableMOf(hookup) <= longestAnalogM) return [];
  return [
    {
      kind: 'cable-too-long',
      boardId: board.id,
      place: { probeId: id, keys: ['hookup', 'cableM'] },
      problem: `the cable of probe ${id} is ${cableMOf(hookup)} m long, and an analog one works up to ${longestAnalogM} m`,
      remedy: 'move the board nearer, or give that bench a board of its own or a probe by radio',
    },
  ];
}

function referenceConflicts(board: BoardConfig): Conflict[] {
  const { logicVolts } = boardModels[board.model];
  if (board.referenceVolts === undefined || board.referenceVolts <= logicVolts * referenceSlack) return [];
  return [
    {
      kind: 'five-volts-into-three',
      boardId: board.id,
      place: { keys: ['referenceVolts'] },
      problem: `referenceVolts is ${board.referenceVolts} V on a ${logicVolts} V board`,
      remedy: `measure between ${logicVolts === 5 ? '5V' : '3V3'} and GND again; ${logicVolts} V is expected`,
    },
  ];
}

function busLength(board: BoardConfig, hung: readonly BoardProbe[]): Conflict[] {
  const metres = busM(hung);
  const [longest] = hung
    .filter(({ hookup }) => !('input' in hookup))
    .sort((a, b) => cableMOf(b.hookup) - cableMOf(a.hookup));
  if (longest === undefined || metres <= longestBusM) return [];
  return [
    {
      kind: 'cable-too-long',
      boardId: board.id,
      place: { probeId: longest.id, keys: ['hookup', 'cableM'] },
      problem: `the I2C cables are ${Number(metres.toFixed(1))} m long together, and the bus works up to ${longestBusM} m`,
      remedy: 'shorten them ("cableM"), or give the far part a board of its own, 1-Wire or a probe by radio',
    },
  ];
}

function addressClashes(board: BoardConfig, hung: readonly BoardProbe[]): Conflict[] {
  const onBus = hung.filter(({ hookup }) => i2cAddress(hookup) !== undefined);
  return [...groupBy(onBus, ({ hookup }) => i2cAddress(hookup) ?? 0)].flatMap(
    ([address, same]): Conflict[] => {
      const parts = new Set(same.map(({ hookup }) => hookup.part));
      const places = new Set(same.map((probe) => ('bench' in probe ? probe.bench : probe.id)));
      const kinds = new Set(same.map(({ kind }) => kind));
      const supplies = new Set(same.map(({ hookup }) => hookup.supplyVolts));
      const onePart =
        parts.size === 1 && places.size === 1 && kinds.size === same.length && supplies.size === 1;
      const last = same.at(-1);
      if (onePart || last === undefined) return [];
      const [part] = parts;
      const strap = part === undefined ? undefined : partFacts[part].strap;
      const used = new Set(onBus.map(({ hookup }) => i2cAddress(hookup)));
      const free = Object.entries(strap ?? {}).filter(([text]) => !used.has(Number(text)));
      return [
        {
          kind: 'address-clash',
          boardId: board.id,
          place: { probeId: last.id, keys: ['hookup', 'address'] },
          problem: `probes ${list(
            same.map(({ id }) => id),
            'and',
          )} are different parts at one I2C address, ${addressText(address)}`,
          remedy:
            free.length > 0
              ? `set one of them to ${free.map(([text, how]) => `${text} (${how})`).join(', or ')}`
              : 'this address can not be changed: put one of them on another board',
        },
      ];
    },
  );
}
