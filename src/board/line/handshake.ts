import type { Duplex } from 'node:stream';
import buildFirmata, { type Firmata } from 'firmata-io';
import type { Board } from 'johnny-five';
import five from 'johnny-five';
import type { Clock } from '../../monitor/ports/ports.js';
import { withDeadline } from './deadline.js';
import { GuardedLine } from './guarded-line.js';

const { Firmata: FirmataBoard } = buildFirmata as unknown as { Firmata: typeof Firmata };

/** A board resets when its port is opened: a boot loader takes up to 2 s, and the question is asked again each second. */
const handshakeLimitMs = 8_000;
const askAgainMs = 1_000;

/** Protocol 2.4 is the first that answers a request for an analog value at once. */
const oldestProtocol = { major: 2, minor: 4 };

export interface ReadyLine {
  readonly line: GuardedLine;
  readonly io: Firmata;
  readonly board: Board;
}

export type Handshake =
  | ({ readonly kind: 'ready' } & ReadyLine)
  | { readonly kind: 'wrong-firmware'; readonly finding: string }
  | { readonly kind: 'silent' }
  | { readonly kind: 'lost'; readonly finding: string };

export interface HandshakeTools {
  readonly clock: Clock;
  readonly complain: (cause: unknown) => void;
  /** Ends the attempt: the monitor is shutting down. */
  readonly signal: AbortSignal;
}

/**
 * Speaks to whatever is on the line until it has shown itself a Firmata board, through firmata-io and then johnny-five.
 * Never throws; closes the line unless the result is `ready`.
 *
 * johnny-five comes last, for a Board that never gets ready is kept by it for ever, and emits an error after ten seconds.
 */
export async function shakeHands(stream: Duplex, boardId: string, tools: HandshakeTools): Promise<Handshake> {
  const { clock, complain, signal } = tools;
  const line = new GuardedLine(stream, complain);
  const stop = () => line.close();
  signal.addEventListener('abort', stop);
  try {
    return await meet(line, boardId, clock, complain);
  } finally {
    signal.removeEventListener('abort', stop);
  }
}

async function meet(
  line: GuardedLine,
  boardId: string,
  clock: Clock,
  complain: (cause: unknown) => void,
): Promise<Handshake> {
  const io = new FirmataBoard(line, {});
  clearTimeout(io.reportVersionTimeoutId);
  io.on('error', complain);
  const gone = new Promise<'gone'>((resolve) => line.once('close', () => resolve('gone')));
  const ready = new Promise<'ready'>((resolve) => io.once('ready', () => resolve('ready')));

  let met: 'ready' | 'gone' | undefined;
  const startedMs = clock.monotonicMs();
  while (met === undefined && clock.monotonicMs() - startedMs < handshakeLimitMs) {
    if (io.version.major === undefined) io.reportVersion(ignoreReply);
    if (io.firmware.name === undefined) io.queryFirmware(ignoreReply);
    const outcome = await withDeadline(Promise.race([ready, gone]), askAgainMs, clock);
    if (outcome.kind === 'done') met = outcome.value;
  }
  const refusal = met === 'ready' ? unfit(io) : failure(met, line);
  if (refusal !== undefined) {
    line.close();
    return refusal;
  }
  const options = { id: boardId, io, repl: false, debug: false, sigint: false };
  const board = new five.Board(options);
  board.on('error', complain);
  await new Promise<void>((resolve) => board.on('ready', resolve));
  return { kind: 'ready', line, io, board };
}

function ignoreReply(): void {
  // firmata-io wants a callback; the state it keeps is what is read.
}

function failure(met: 'gone' | 'ready' | undefined, line: GuardedLine): Handshake {
  if (met === 'gone') return { kind: 'lost', finding: line.lostBecause ?? 'the line was closed' };
  if (line.receivedByteCount === 0) return { kind: 'silent' };
  return {
    kind: 'wrong-firmware',
    finding: `it sent ${line.receivedByteCount} bytes, but no Firmata`,
  };
}

function unfit(io: Firmata): Handshake | undefined {
  const { major = 0, minor = 0 } = io.version;
  const tooOld =
    major < oldestProtocol.major || (major === oldestProtocol.major && minor < oldestProtocol.minor);
  if (tooOld)
    return {
      kind: 'wrong-firmware',
      finding: `its Firmata ${major}.${minor} is too old, ${oldestProtocol.major}.${oldestProtocol.minor} or newer is needed`,
    };
  if (io.analogPins.length === 0)
    return { kind: 'wrong-firmware', finding: 'its Firmata offers no analog pins' };
  return undefined;
}
