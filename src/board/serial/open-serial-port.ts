import type { Duplex } from 'node:stream';
import { SerialPort } from 'serialport';
import type { BoardConfig } from '../../../shared/config/kit/hookup.js';
import { choosePort, type ListedPort } from './choose-port.js';
import { linuxPorts } from './linux-ports.js';
import { BoardOpenError } from './open-error.js';
import { portGroup } from './port-group.js';

/** StandardFirmata's speed (Firmata.begin(57600)). */
export const firmataBaud = 57_600;

/** Serial ports that the operating system knows; on Linux those of USB, from the kernel itself. */
export async function listPorts(): Promise<readonly ListedPort[]> {
  // the library asks udevadm there, which a bare machine or a container lacks
  return process.platform === 'linux' ? linuxPorts() : await SerialPort.list();
}

/**
 * Finds and opens a board's serial port.
 * @throws BoardOpenError with a sentence that says what to do
 */
export async function openSerialPort(board: BoardConfig): Promise<Duplex> {
  return await openPath(board.port ?? choosePort(board, await listPorts()), firmataBaud);
}

/** The library's own stream keeps its port open, locked and polled when it is destroyed; this one lets go of it. */
class ReleasedPort extends SerialPort {
  override _destroy(cause: Error | null, done: (error: Error | null) => void): void {
    if (this.isOpen) this.close((failure) => done(cause ?? failure));
    else done(cause);
  }
}

/**
 * Opens any serial port by its path; destroying the stream closes it.
 * @throws BoardOpenError with a sentence that says what to do
 */
export async function openPath(path: string, baudRate: number): Promise<Duplex> {
  const port = new ReleasedPort({ path, baudRate, autoOpen: false });
  const failure = await new Promise<Error | null>((resolve) => port.open(resolve));
  if (failure === null) return port;
  throw openErrorOf(path, failure, await portGroup(path));
}

/**
 * What the operating system's message means. serialport gives no code, only the text of errno.
 * @param group that owns the port
 */
export function openErrorOf(path: string, cause: Error, group: string): BoardOpenError {
  if (/permission denied|access denied|EACCES/i.test(cause.message))
    return new BoardOpenError(
      'PORT_DENIED',
      `this user may not open ${path}; join group ${group} (sudo usermod -aG ${group} "$USER"), then log out and in again`,
      { cause },
    );
  if (/temporarily unavailable|cannot lock|resource busy|EBUSY|EAGAIN/i.test(cause.message))
    return new BoardOpenError(
      'PORT_BUSY',
      `${path} is in use by another program; close it (a serial monitor, or a second drybell?)`,
      { cause },
    );
  if (/no such file|no such device|file not found|ENOENT|ENODEV|ENXIO/i.test(cause.message))
    return new BoardOpenError(
      'BOARD_NOT_FOUND',
      `there is no port ${path}; check the cable, and "port" in the configuration`,
      { cause },
    );
  return new BoardOpenError(
    'PORT_FAILED',
    `${path} does not open: ${cause.message}; unplug the board and plug it in again`,
    { cause },
  );
}
