import type { BoardConfig, BoardModel } from '../../../../shared/config/kit/hookup.js';
import type { ProbeConfig } from '../../../../shared/config/kit/probes.js';
import { boardModels } from '../../kit/board-models.js';
import { type BoardProbe, isBoardProbe } from '../../kit/hooked-probe.js';
import type { KitPlace } from './conflict.js';

/** What a pin must be able to do. */
export type PinUse = 'analog-in' | 'output' | 'button' | 'bus';

/** Somebody's claim on a pin of a board. */
export interface PinClaim {
  /** Digital number; analog pins count on from the last digital one. */
  readonly pin: number;
  /** As configured: "A0", "7". */
  readonly printed: string;
  /** Who wants it, fit for a sentence. */
  readonly by: string;
  /** Claims with one purpose share a pin, as all I2C parts do. */
  readonly purpose: string;
  readonly use: PinUse;
  readonly place: KitPlace;
}

/** The probes that hang on a board. */
export function probesOn(board: BoardConfig, probes: readonly ProbeConfig[]): readonly BoardProbe[] {
  return probes.filter(isBoardProbe).filter(({ hookup }) => hookup.board === board.id);
}

export function usesI2c(probes: readonly BoardProbe[]): boolean {
  return probes.some(({ hookup }) => !('input' in hookup));
}

/** Digital number of a pin as printed: "A2" or "7". */
export function pinNumber(board: BoardConfig, printed: string): number {
  const analog = /^A(\d+)$/.exec(printed)?.[1];
  return analog === undefined
    ? Number(printed)
    : boardModels[board.model].firstAnalogAsDigital + Number(analog);
}

/** Every claim on every pin of a board. */
export function pinClaims(board: BoardConfig, probes: readonly BoardProbe[]): readonly PinClaim[] {
  const model = boardModels[board.model];
  const claims: PinClaim[] = [];
  const claim = (printed: string, use: PinUse, by: string, place: KitPlace, purpose = by): void => {
    claims.push({ pin: pinNumber(board, printed), printed, use, by, purpose, place });
  };
  const ofBoard = (...keys: readonly (string | number)[]): KitPlace => ({ keys });
  if (model.serialOnPins01) {
    claim('0', 'bus', 'the USB line', ofBoard('model'));
    claim('1', 'bus', 'the USB line', ofBoard('model'));
  }
  if (usesI2c(probes)) {
    claim(model.sda, 'bus', 'I2C data (SDA)', ofBoard('model'), 'I2C');
    claim(model.scl, 'bus', 'I2C clock (SCL)', ofBoard('model'), 'I2C');
  }
  for (const [index, { id, input, selectPins }] of board.multiplexers.entries()) {
    claim(input, 'analog-in', `multiplexer ${id}`, ofBoard('multiplexers', index, 'input'));
    for (const [bit, pin] of selectPins.entries())
      claim(
        String(pin),
        'output',
        `multiplexer ${id}, S${bit}`,
        ofBoard('multiplexers', index, 'selectPins', bit),
      );
  }
  for (const { id, hookup } of probes)
    if ('input' in hookup && !hookup.input.includes('.'))
      claim(hookup.input, 'analog-in', `probe ${id}`, { probeId: id, keys: ['hookup', 'input'] });
  const { probePower, reference, callPost } = board;
  if (probePower !== undefined)
    claim(String(probePower.pin), 'output', 'probe power', ofBoard('probePower', 'pin'));
  if (probePower?.topInput !== undefined)
    claim(probePower.topInput, 'analog-in', 'the top of probe power', ofBoard('probePower', 'topInput'));
  if (reference !== undefined)
    claim(reference.input, 'analog-in', 'the reference', ofBoard('reference', 'input'));
  const { lampPin, buzzerPin, buttonPin } = callPost ?? {};
  if (lampPin !== undefined)
    claim(String(lampPin), 'output', 'the call lamp', ofBoard('callPost', 'lampPin'));
  if (buzzerPin !== undefined)
    claim(String(buzzerPin), 'output', 'the buzzer', ofBoard('callPost', 'buzzerPin'));
  if (buttonPin !== undefined)
    claim(String(buttonPin), 'button', 'the acknowledge button', ofBoard('callPost', 'buttonPin'));
  return claims;
}

/** Digital numbers of the pins that can drive something or watch a button: numbered pins, and analog ones that do both. */
export function drivingPins(model: BoardModel): readonly number[] {
  const { digitalPinCount, analogPinCount, firstAnalogAsDigital, analogOnly, serialOnPins01 } =
    boardModels[model];
  const numbered = Array.from({ length: digitalPinCount }, (_, pin) => pin);
  const analog = Array.from({ length: analogPinCount }, (_, index) => index)
    .filter((index) => !analogOnly.includes(`A${index}`))
    .map((index) => firstAnalogAsDigital + index);
  return [...numbered.filter((pin) => pin > 1 || !serialOnPins01), ...analog];
}

/** Numbered pins that nobody claims and that do not blink at the start, as printed. */
export function freeDigitalPins(board: BoardConfig, claims: readonly PinClaim[]): readonly string[] {
  const { digitalPinCount, ledPin } = boardModels[board.model];
  const taken = new Set(claims.map(({ pin }) => pin));
  return drivingPins(board.model)
    .filter((pin) => pin > 1 && pin < digitalPinCount && pin !== ledPin && !taken.has(pin))
    .map(String);
}

/** Analog pins that nobody claims, as printed. */
export function freeAnalogPins(board: BoardConfig, claims: readonly PinClaim[]): readonly string[] {
  const taken = new Set(claims.map(({ pin }) => pin));
  return Array.from({ length: boardModels[board.model].analogPinCount }, (_, index) => `A${index}`).filter(
    (printed) => !taken.has(pinNumber(board, printed)),
  );
}
