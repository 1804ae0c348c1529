import type { BoardConfig } from '../../../shared/config/hookup.js';
import type { ProbeConfig } from '../../../shared/config/probes.js';
import { boardModels } from '../board-models.js';
import { groupBy } from '../group-by.js';
import { type BoardProbe, partKey } from '../hooked-probe.js';
import { freeAnalogPins, freeDigitalPins, type PinClaim, pinClaims, probesOn } from './board-pins.js';
import type { Conflict } from './conflict.js';
import { addressText, i2cAddress, partFacts } from './part-facts.js';
import { currentConflicts, voltageConflicts } from './power-conflicts.js';

/** Everything that would not work, or would do harm, when the kit is built as configured. */
export function findConflicts(
  boards: readonly BoardConfig[],
  probes: readonly ProbeConfig[],
): readonly Conflict[] {
  const conflicts: Conflict[] = [];
  for (const board of boards) {
    const hung = probesOn(board, probes);
    const claims = pinClaims(board, hung);
    conflicts.push(
      ...missingPins(board, claims),
      ...doublePins(board, claims),
      ...doubleChannels(board, hung, claims),
      ...addressClashes(board, hung),
      ...currentConflicts(board, hung),
      ...voltageConflicts(board, hung),
    );
  }
  if (boards.length > 1)
    for (const board of boards)
      if (board.serialNumber === undefined && board.port === undefined)
        conflicts.push({
          kind: 'board-not-told-apart',
          boardId: board.id,
          problem: `with ${boards.length} boards nothing says which one is ${board.id}`,
          remedy:
            'plug them in one by one, run `drybell probes --boards`, and give each board its serialNumber',
        });
  return conflicts;
}

function missingPins(board: BoardConfig, claims: readonly PinClaim[]): Conflict[] {
  const model = boardModels[board.model];
  const lacking = claims.filter(({ printed }) => {
    const analog = /^A(\d+)$/.exec(printed)?.[1];
    return analog === undefined
      ? Number(printed) >= model.digitalPinCount && !['20', '21'].includes(printed)
      : Number(analog) >= model.analogPinCount;
  });
  const analogShort = lacking.filter(({ printed }) => printed.startsWith('A'));
  const digitalShort = lacking.filter(({ printed }) => !printed.startsWith('A'));
  return [
    ...digitalShort.map(
      ({ printed, by }): Conflict => ({
        kind: 'no-such-pin',
        boardId: board.id,
        problem: `${by} is on pin ${printed}, which a board of model "${board.model}" lacks`,
        remedy: `take one of ${list(freeDigitalPins(board, claims))}`,
      }),
    ),
    ...analogShort.map(
      ({ printed, by }): Conflict => ({
        kind: 'out-of-analog-pins',
        boardId: board.id,
        problem: `${by} is on ${printed}, but a board of model "${board.model}" ends at A${model.analogPinCount - 1}`,
        remedy: moreAnalog(board, claims),
      }),
    ),
  ];
}

function moreAnalog(board: BoardConfig, claims: readonly PinClaim[]): string {
  const free = freeAnalogPins(board, claims);
  return free.length > 0
    ? `take one of ${list(free)}, or a channel of a multiplexer (sixteen probes on one pin)`
    : 'put the probes on a multiplexer (sixteen on one analog pin), or on a second board';
}

function doublePins(board: BoardConfig, claims: readonly PinClaim[]): Conflict[] {
  const byPin = groupBy(claims, ({ pin }) => pin);
  return [...byPin.values()].flatMap((same): Conflict[] => {
    const [first] = same;
    if (first === undefined || new Set(same.map(({ purpose }) => purpose)).size < 2) return [];
    const isAnalog = first.printed.startsWith('A') || same.some(({ printed }) => printed.startsWith('A'));
    return [
      {
        kind: 'pin-taken-twice',
        boardId: board.id,
        problem: `pin ${first.printed} is wanted by ${list([...new Set(same.map(({ by }) => by))], 'and')}`,
        remedy: isAnalog
          ? moreAnalog(board, claims)
          : `move one of them to ${list(freeDigitalPins(board, claims))}`,
      },
    ];
  });
}

function doubleChannels(
  board: BoardConfig,
  hung: readonly BoardProbe[],
  claims: readonly PinClaim[],
): Conflict[] {
  const onChannel = hung.filter(({ hookup }) => 'input' in hookup && hookup.input.includes('.'));
  return [...groupBy(onChannel, ({ hookup }) => partKey(hookup))].flatMap(([input, same]): Conflict[] => {
    if (same.length < 2) return [];
    const [name = ''] = input.split('.');
    const taken = new Set(onChannel.map(({ hookup }) => partKey(hookup)));
    const free = Array.from({ length: 16 }, (_, channel) => `${name}.${channel}`).filter(
      (c) => !taken.has(c),
    );
    return [
      {
        kind: 'pin-taken-twice',
        boardId: board.id,
        problem: `channel ${input} is wanted by ${list(
          same.map(({ id }) => `probe ${id}`),
          'and',
        )}`,
        remedy: free.length > 0 ? `take one of ${list(free)}` : moreAnalog(board, claims),
      },
    ];
  });
}

function addressClashes(board: BoardConfig, hung: readonly BoardProbe[]): Conflict[] {
  const onBus = hung.filter(({ hookup }) => i2cAddress(hookup) !== undefined);
  return [...groupBy(onBus, ({ hookup }) => i2cAddress(hookup) ?? 0)].flatMap(
    ([address, same]): Conflict[] => {
      const parts = new Set(same.map(({ hookup }) => hookup.part));
      const places = new Set(same.map((probe) => ('bench' in probe ? probe.bench : probe.id)));
      const kinds = new Set(same.map(({ kind }) => kind));
      const onePart = parts.size === 1 && places.size === 1 && kinds.size === same.length;
      if (onePart) return [];
      const [part] = parts;
      const strap = part === undefined ? undefined : partFacts[part].strap;
      const used = new Set(onBus.map(({ hookup }) => i2cAddress(hookup)));
      const free = Object.entries(strap ?? {}).filter(([text]) => !used.has(Number(text)));
      return [
        {
          kind: 'address-clash',
          boardId: board.id,
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

/** `a, b or c` */
export function list(items: readonly string[], word = 'or'): string {
  if (items.length < 2) return items[0] ?? 'none that is free';
  return `${items.slice(0, -1).join(', ')} ${word} ${items.at(-1)}`;
}
