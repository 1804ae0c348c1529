import type { BoardConfig } from '../../../shared/config/kit/hookup.js';
import { BoardOpenError } from './open-error.js';

/** A serial port as the operating system lists it. */
export interface ListedPort {
  readonly path: string;
  readonly serialNumber?: string | undefined;
  readonly manufacturer?: string | undefined;
  /** A name that stays with the socket it is plugged into, where the system gives one. */
  readonly link?: string | undefined;
}

/** Ports that can be a board's: USB adapters and USB's own serial class, as against a machine's built-in UARTs. */
export function usbPorts(ports: readonly ListedPort[]): readonly ListedPort[] {
  return ports.filter(({ path }) => /usb|acm|usbmodem|^com\d/i.test(path));
}

/**
 * The port of a board: by serial number, never by its place in the list, for that changes from boot to boot; or the only
 * board that is plugged in.
 *
 * @throws BoardOpenError BOARD_NOT_FOUND, naming what is there instead
 */
export function choosePort(board: BoardConfig, ports: readonly ListedPort[]): string {
  const candidates = usbPorts(ports);
  const there =
    candidates.length === 0
      ? 'no board is plugged in'
      : `plugged in: ${candidates.map(({ path, serialNumber }) => `${serialNumber ?? 'no number'} at ${path}`).join(', ')}`;
  if (board.serialNumber !== undefined) {
    const wanted = board.serialNumber.toLowerCase();
    const found = candidates.find(({ serialNumber }) => serialNumber?.toLowerCase() === wanted);
    if (found !== undefined) return found.path;
    throw new BoardOpenError(
      'BOARD_NOT_FOUND',
      `no board with serial number ${board.serialNumber} is plugged in (${there}); check its USB cable and hub`,
    );
  }
  const [only, ...more] = candidates;
  if (only !== undefined && more.length === 0) return only.path;
  throw new BoardOpenError(
    'BOARD_NOT_FOUND',
    only === undefined
      ? 'no board is plugged in; check its USB cable'
      : `${candidates.length} boards are plugged in; give boards its serialNumber in the configuration (${there})`,
  );
}
