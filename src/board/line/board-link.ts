import type { Firmata } from 'firmata-io';
import type { Board, Pin } from 'johnny-five';
import five from 'johnny-five';
import type { Clock } from '../../monitor/ports/ports.js';
import { type Answer, fault, value } from '../parts/answer.js';
import { withDeadline } from './deadline.js';
import type { GuardedLine } from './guarded-line.js';
import type { ReadyLine } from './handshake.js';

/** An answer takes 1 to 4 ms, and 16 ms more behind some USB adapters. */
const answerLimitMs = 600;
/** One sign of life may be lost to noise on the line; two in a row are silence. */
const aliveAttemptCount = 2;
/** The longest interval that the protocol's 14 bits carry: the board must not send unasked. */
const longestSamplingMs = 16_383;

/**
 * A connected board: one question at a time, each with a time limit, and no answer is ever taken for that of another
 * question. A board that does not answer makes the link `lost`; the station then builds a new one.
 */
export class BoardLink {
  readonly #line: GuardedLine;
  readonly #board: Board;
  readonly #clock: Clock;
  readonly #pins = new Map<number, Pin>();
  readonly #levels = new Map<number, boolean>();
  readonly #pullUps = new Set<number>();
  readonly #interrupt = new Set<(reason: string) => void>();
  readonly io: Firmata;
  /** Resolves when the board is gone or has fallen silent. */
  readonly lost: Promise<'silent' | 'unplugged'>;
  #lose: (how: 'silent' | 'unplugged') => void = () => undefined;
  #bootCount = 0;
  #restarted = false;
  #silent = false;

  constructor(ready: ReadyLine, clock: Clock) {
    this.#line = ready.line;
    this.io = ready.io;
    this.#board = ready.board;
    this.#clock = clock;
    this.lost = new Promise((resolve) => {
      this.#lose = resolve;
    });
    ready.line.once('close', () => {
      this.#lose('unplugged');
      this.#break('the board was unplugged while it was read');
    });
    if (ready.line.lostBecause !== undefined) this.#lose('unplugged');
  }

  /** Grows with every restart of the board: what was set up on it before is gone. */
  get bootCount(): number {
    return this.#bootCount;
  }

  /** Largest count that the board's converter gives. */
  get largestCounts(): number {
    return this.io.RESOLUTION.ADC ?? 1023;
  }

  /**
   * Sets the board up, after connecting and again when it has restarted by itself.
   * @returns false when the board does not answer.
   */
  async setUp(usesI2c: boolean): Promise<boolean> {
    if (!(await this.alive())) return false;
    if (this.#bootCount === 0)
      this.io.on('reportversion', () => {
        this.#restarted = true;
        this.#break('the board restarted while it was read');
      });
    this.#restarted = false;
    this.#bootCount++;
    this.io.setSamplingInterval(longestSamplingMs);
    if (usesI2c) this.io.i2cConfig({ delay: 0 });
    for (const pin of this.#pullUps) this.#pullUp(pin);
    for (const [pin, high] of this.#levels) {
      this.io.pinMode(pin, this.io.MODES.OUTPUT);
      this.#write(pin, high);
    }
    return true;
  }

  /** True once the board has not answered its sign of life; the station then drops this link. */
  get silent(): boolean {
    return this.#silent;
  }

  /** True when the board announced itself anew since the last set-up: power dip, reset button, watchdog. */
  get restarted(): boolean {
    return this.#restarted;
  }

  /**
   * Asks for the firmware's name and waits for it. As answers come in the order of the questions, nothing that was asked
   * before can arrive after this: it is also the barrier that keeps a late answer from being taken for a new one.
   */
  async alive(): Promise<boolean> {
    for (let attempt = 0; attempt < aliveAttemptCount && this.#line.lostBecause === undefined; attempt++) {
      const answer = await this.#await<void>('queryfirmware', () => this.io.queryFirmware(() => undefined));
      if (answer.kind === 'value') return true;
    }
    this.#silent = true;
    this.#lose('silent');
    return false;
  }

  /**
   * One question, one answer.
   * @param event what firmata-io emits for the answer
   * @param ask sends the question
   */
  async question<T>(event: string, ask: () => void): Promise<Answer<T>> {
    const answer = await this.#await<T>(event, ask);
    if (answer.kind === 'fault' && this.#line.lostBecause === undefined && !this.#restarted)
      await this.alive();
    return answer;
  }

  async #await<T>(event: string, ask: () => void): Promise<Answer<T>> {
    if (this.#line.lostBecause !== undefined) return fault(`no board: ${this.#line.lostBecause}`);
    let settle: (answer: Answer<T>) => void = () => undefined;
    const answered = new Promise<Answer<T>>((resolve) => {
      settle = resolve;
    });
    const onAnswer = (given: T) => settle(value(given));
    const onBreak = (reason: string) => settle(fault(reason));
    this.io.once(event, onAnswer);
    this.#interrupt.add(onBreak);
    try {
      ask();
      const outcome = await withDeadline(answered, answerLimitMs, this.#clock);
      return outcome.kind === 'done' ? outcome.value : fault('the board did not answer in time');
    } finally {
      this.io.removeListener(event, onAnswer);
      this.#interrupt.delete(onBreak);
    }
  }

  #break(reason: string): void {
    for (const onBreak of this.#interrupt) onBreak(reason);
  }

  /** Drives an output pin. Remembered, and set again after a restart of the board. */
  drive(pin: number, high: boolean): void {
    this.#levels.set(pin, high);
    this.#write(pin, high);
  }

  #write(pin: number, high: boolean): void {
    // firmata-io sends all eight bits of a port at once, with the last INPUT seen: while the button is pressed a write
    // to the lamp beside it would switch the button's pull-up off.
    for (const input of this.#pullUps) {
      const port = input >> 3;
      this.io.ports[port] = (this.io.ports[port] ?? 0) | (1 << (input & 7));
    }
    const output = this.#pins.get(pin) ?? new five.Pin({ pin, board: this.#board });
    this.#pins.set(pin, output);
    if (high) output.high();
    else output.low();
  }

  /** Listens to a push button between `pin` and ground. */
  watchButton(pin: number, onChange: (pressed: boolean) => void): void {
    this.#pullUps.add(pin);
    this.#pullUp(pin);
    this.io.digitalRead(pin, (level) => onChange(level === 0));
  }

  #pullUp(pin: number): void {
    this.io.pinMode(pin, this.io.MODES.INPUT);
    this.io.digitalWrite(pin, 1);
  }

  /** Why the line is gone, or undefined. */
  get lostBecause(): string | undefined {
    return this.#line.lostBecause;
  }

  /** Lets go of the line; whoever is reading gets a fault. */
  close(): void {
    this.#line.close();
  }

  /**
   * johnny-five and firmata-io keep every board, I/O and pin in lists of their own for ever: they are emptied here, or a
   * loose cable would fill the memory in days. Only when nobody uses this link any more.
   */
  forget(): void {
    this.#line.removeAllListeners();
    for (const kept of [...this.#pins.values(), this.#board, this.io]) empty(kept);
    this.#pins.clear();
  }
}

function empty(kept: object): void {
  for (const key of Object.keys(kept)) Reflect.deleteProperty(kept, key);
}
