import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { createServer, type Server, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { BOARD_PINS } from '../../src/worlds/demo/virtual-board/board-pins.js';
import { createVirtualBoard, type VirtualBoard } from '../../src/worlds/demo/virtual-board/virtual-board.js';
import { toolPath } from '../helpers/needs.js';

const SUPPLY_VOLTS = 5;
const PLUGGED_WITHIN_MS = 10_000;

/** What the board's channels stand at, V. */
export const BOARD_VOLTS: readonly number[] = [1.4, 1.8, 2.2, 2.6];

/** A board that speaks Firmata at the far end of a pseudo-terminal, and what can happen to it. */
export class BoardPort {
  readonly #folder = mkdtempSync(join(tmpdir(), 'drybell-board-'));
  readonly port = join(this.#folder, 'ttyBoard');
  readonly #socketPath = join(this.#folder, 'board.sock');
  readonly #server: Server;
  #socat: ChildProcess | undefined;
  #line: Socket | undefined;
  #board: VirtualBoard | undefined;

  private constructor() {
    this.#server = createServer((line) => {
      this.#line = line;
      line.on('error', () => line.destroy());
      line.on('data', (bytes: Buffer) => this.#board?.write(bytes));
      this.reset();
    });
  }

  /** Undefined without Debian's socat. */
  static async lay(): Promise<BoardPort | undefined> {
    if (toolPath('socat') === undefined) return undefined;
    const port = new BoardPort();
    await new Promise<void>((resolve) => port.#server.listen(port.#socketPath, resolve));
    await port.plug();
    return port;
  }

  async plug(): Promise<void> {
    this.#socat = spawn('socat', [`PTY,link=${this.port},raw,echo=0`, `UNIX-CONNECT:${this.#socketPath}`], {
      stdio: 'ignore',
    });
    const untilMs = performance.now() + PLUGGED_WITHIN_MS;
    while (!existsSync(this.port) && performance.now() < untilMs) await sleep(20);
  }

  /** The port goes away with its cable. */
  async unplug(): Promise<void> {
    const { exitCode } = this.#socat ?? { exitCode: 0 };
    if (exitCode !== null || this.#socat === undefined) return;
    const ended = once(this.#socat, 'exit');
    this.#socat.kill();
    await ended;
    rmSync(this.port, { force: true });
  }

  /** The board starts anew in the middle of whatever it said. */
  reset(): void {
    this.#board?.destroy();
    const board = createVirtualBoard({
      pins: BOARD_PINS.uno,
      supplyVolts: () => SUPPLY_VOLTS,
      analogVolts: (channel) => BOARD_VOLTS[channel],
      i2cParts: [],
    });
    this.#board = board;
    board.on('data', (bytes: Buffer) => this.say(bytes));
  }

  hang(isHung: boolean): void {
    this.#board?.hang(isHung);
  }

  /** Bytes on the line, whoever they are from. */
  say(bytes: Buffer): void {
    if (this.#line?.writable === true) this.#line.write(bytes);
  }

  async close(): Promise<void> {
    await this.unplug();
    this.#board?.destroy();
    this.#line?.destroy();
    await new Promise((closed) => this.#server.close(closed));
    rmSync(this.#folder, { recursive: true });
  }
}
