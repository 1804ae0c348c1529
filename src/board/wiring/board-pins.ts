import type { BoardConfig } from '../../../shared/config/hookup.js';
import type { ProbeConfig } from '../../../shared/config/probes.js';
import { boardModels } from '../board-models.js';
import { type BoardProbe, isBoardProbe } from '../hooked-probe.js';

/** Somebody's claim on a pin of a board. */
export interface PinClaim {
  /** Digital number; analog pins count on from the last digital one. */
  readonly pin: number;
  /** As printed on the board: "A0", "7". */
  readonly printed: string;
  /** Who wants it, fit for a sentence. */
  readonly by: string;
  /** Claims with one purpose share a pin, as all I2C parts do. */
  readonly purpose: string;
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
  const claim = (printed: string, by: string, purpose = by): void => {
    claims.push({ pin: pinNumber(board, printed), printed, by, purpose });
  };
  if (model.serialOnPins01) {
    claim('0', 'the USB line');
    claim('1', 'the USB line');
  }
  if (usesI2c(probes)) {
    claim(model.sda, 'I2C data (SDA)', 'I2C');
    claim(model.scl, 'I2C clock (SCL)', 'I2C');
  }
  for (const { id, input, selectPins } of board.multiplexers) {
    claim(input, `multiplexer ${id}`);
    for (const [bit, pin] of selectPins.entries()) claim(String(pin), `multiplexer ${id}, S${bit}`);
  }
  for (const { id, hookup } of probes)
    if ('input' in hookup && !hookup.input.includes('.')) claim(hookup.input, `probe ${id}`);
  if (board.probePower !== undefined) claim(String(board.probePower.pin), 'probe power');
  const { lampPin, buzzerPin, buttonPin } = board.callPost ?? {};
  if (lampPin !== undefined) claim(String(lampPin), 'the call lamp');
  if (buzzerPin !== undefined) claim(String(buzzerPin), 'the buzzer');
  if (buttonPin !== undefined) claim(String(buttonPin), 'the acknowledge button');
  return claims;
}

/** Digital pins that nobody claims, as printed. */
export function freeDigitalPins(board: BoardConfig, claims: readonly PinClaim[]): readonly string[] {
  const taken = new Set(claims.map(({ pin }) => pin));
  return Array.from({ length: boardModels[board.model].digitalPinCount }, (_, pin) => pin)
    .filter((pin) => pin > 1 && !taken.has(pin))
    .map(String);
}

/** Analog pins that nobody claims, as printed. */
export function freeAnalogPins(board: BoardConfig, claims: readonly PinClaim[]): readonly string[] {
  const taken = new Set(claims.map(({ pin }) => pin));
  return Array.from({ length: boardModels[board.model].analogPinCount }, (_, index) => `A${index}`).filter(
    (printed) => !taken.has(pinNumber(board, printed)),
  );
}
