import type { BoardConfig } from '../../../../shared/config/kit/hookup.js';
import { boardModels } from '../../kit/board-models.js';
import { groupBy } from '../../kit/group-by.js';
import { type BoardProbe, partKey } from '../../kit/hooked-probe.js';
import { drivingPins, freeAnalogPins, freeDigitalPins, type PinClaim } from './board-pins.js';
import type { Conflict } from './conflict.js';
import { list } from './list.js';

/** Pins that the board has not, that can't do what is asked of them, or that two jobs want. */
export function pinConflicts(
  board: BoardConfig,
  hung: readonly BoardProbe[],
  claims: readonly PinClaim[],
): Conflict[] {
  return [
    ...claims.flatMap((claim) => unfitPin(board, claims, claim)),
    ...doublePins(board, claims),
    ...doubleChannels(board, hung, claims),
  ];
}

function unfitPin(board: BoardConfig, claims: readonly PinClaim[], claim: PinClaim): Conflict[] {
  const model = boardModels[board.model];
  const { printed, pin, by, use, place } = claim;
  const boardId = board.id;
  if (use === 'bus') return [];
  if (use === 'analog-in') {
    if (pin < model.firstAnalogAsDigital + model.analogPinCount) return [];
    return [
      {
        kind: 'out-of-analog-pins',
        boardId,
        place,
        problem: `${by} is on ${printed}, but a board of model "${board.model}" ends at A${model.analogPinCount - 1}`,
        remedy: moreAnalog(board, claims),
      },
    ];
  }
  const takeFree = `take one of ${list(freeDigitalPins(board, claims))}`;
  if (!drivingPins(board.model).includes(pin)) {
    const index = pin - model.firstAnalogAsDigital;
    if (model.analogOnly.includes(`A${index}`))
      return [
        {
          kind: 'pin-only-reads',
          boardId,
          place,
          problem: `${by} is on pin ${printed}, which is A${index} of a board of model "${board.model}" and can only read`,
          remedy: takeFree,
        },
      ];
    if (pin <= 1 && model.serialOnPins01) return [];
    return [
      {
        kind: 'no-such-pin',
        boardId,
        place,
        problem: `${by} is on pin ${printed}, which a board of model "${board.model}" lacks`,
        remedy: takeFree,
      },
    ];
  }
  if (pin === model.ledPin && (use === 'button' || by === 'probe power' || by === 'the buzzer'))
    return [
      {
        kind: 'pin-blinks-at-start',
        boardId,
        place,
        problem: `${by} is on pin ${printed}, where the board's own LED hangs: it blinks while the board starts`,
        remedy: `${takeFree}; a lamp may stay there`,
      },
    ];
  return [];
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
    const [first, last] = [same[0], same.at(-1)];
    if (first === undefined || last === undefined || new Set(same.map(({ purpose }) => purpose)).size < 2)
      return [];
    const isAnalog = same.some(({ use }) => use === 'analog-in');
    return [
      {
        kind: 'pin-taken-twice',
        boardId: board.id,
        place: last.place,
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
    const last = same.at(-1);
    if (last === undefined || same.length < 2) return [];
    const [name = ''] = input.split('.');
    const taken = new Set(onChannel.map(({ hookup }) => partKey(hookup)));
    const free = Array.from({ length: 16 }, (_, channel) => `${name}.${channel}`).filter(
      (c) => !taken.has(c),
    );
    return [
      {
        kind: 'pin-taken-twice',
        boardId: board.id,
        place: { probeId: last.id, keys: ['hookup', 'input'] },
        problem: `channel ${input} is wanted by ${list(
          same.map(({ id }) => `probe ${id}`),
          'and',
        )}`,
        remedy: free.length > 0 ? `take one of ${list(free)}` : moreAnalog(board, claims),
      },
    ];
  });
}
