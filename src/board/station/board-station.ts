import type { Duplex } from 'node:stream';
import type { BoardConfig } from '../../../shared/config/kit/hookup.js';
import type { BoardHealth, Clock } from '../../monitor/ports/ports.js';
import { backOffMs } from '../line/back-off.js';
import { BoardLink } from '../line/board-link.js';
import { withDeadline } from '../line/deadline.js';
import { shakeHands } from '../line/handshake.js';
import type { ScaleMemory } from '../readers/part-reader.js';
import { type BoardState, boardWords, healthOf } from './board-health.js';
import { CallPost } from './call-post.js';

/** A board is asked for a sign of life this often when nothing else is asked: silence is known well within 2 min. */
const heartbeatMs = 50_000;
const openLimitMs = 10_000;
const closeLimitMs = 3_000;
/** A link that stood this long ends the back-off: the next loss is a new one. */
const steadyMs = 60_000;

export interface StationTools {
  readonly openTransport: (board: BoardConfig) => Promise<Duplex>;
  readonly ioClock: Clock;
  readonly random: () => number;
  readonly complain: (boardId: string, cause: unknown) => void;
}

/**
 * One board for as long as the monitor runs: connects, watches, and connects again in the same process after unplugging,
 * a reset, the wrong firmware or silence.
 */
export class BoardStation {
  readonly board: BoardConfig;
  readonly scale: ScaleMemory = { creep: undefined };
  readonly #tools: StationTools;
  readonly #usesI2c: boolean;
  readonly #stop = new AbortController();
  readonly #post: CallPost;
  readonly #running: Promise<void>;
  #health: BoardHealth;
  #link: BoardLink | undefined;
  #met = false;
  /** One user of the line at a time: a sample, a sign of life, or the end. */
  #turn: Promise<unknown> = Promise.resolve();

  constructor(
    board: BoardConfig,
    usesI2c: boolean,
    tools: StationTools,
    onAcknowledge: (boardId: string) => void,
  ) {
    this.board = board;
    this.#usesI2c = usesI2c;
    this.#tools = tools;
    this.#health = healthOf(board.id, 'connecting', '');
    this.#post = new CallPost(board, tools.ioClock, () => onAcknowledge(board.id));
    this.#running = this.#run();
  }

  health(): BoardHealth {
    return this.#health;
  }

  showCall(lit: boolean): void {
    this.#post.show(lit, this.#link);
  }

  /**
   * Gives the line to `use` when it is free, or a sentence when there is no board. A board that restarted by itself is
   * set up again first.
   */
  async withLink<T>(use: (link: BoardLink) => Promise<T>): Promise<T | { readonly noBoard: string }> {
    return await this.#inTurn(async () => {
      const link = this.#link;
      if (link === undefined) return { noBoard: boardWords(this.#health) };
      if (link.restarted && !(await this.#setUp(link))) return { noBoard: boardWords(this.#health) };
      return await use(link);
    });
  }

  /** Waits for the board to go quiet, but not for one that is stuck. */
  async close(): Promise<void> {
    this.#stop.abort();
    await withDeadline(this.#running, closeLimitMs, this.#tools.ioClock);
  }

  async #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const mine = this.#turn.then(work);
    this.#turn = mine.catch(() => undefined);
    return await mine;
  }

  async #run(): Promise<void> {
    const { ioClock, random } = this.#tools;
    let waits = backOffMs(random);
    while (!this.#stop.signal.aborted) {
      const startedMs = ioClock.monotonicMs();
      try {
        await this.#connectAndWatch();
      } catch (cause) {
        this.#tools.complain(this.board.id, cause);
        this.#report('no-board', 'an unexpected fault, see the log; it is tried again');
      }
      if (ioClock.monotonicMs() - startedMs > steadyMs) waits = backOffMs(random);
      await this.#pause(waits.next().value);
    }
  }

  async #pause(ms: number): Promise<void> {
    await this.#tools.ioClock.sleep(ms, this.#stop.signal).catch(() => undefined);
  }

  async #connectAndWatch(): Promise<void> {
    const stream = await this.#open();
    if (stream === undefined) return;
    const { ioClock, complain } = this.#tools;
    const met = await shakeHands(stream, this.board.id, {
      clock: ioClock,
      complain: (cause) => complain(this.board.id, cause),
      signal: this.#stop.signal,
    });
    if (this.#stop.signal.aborted && met.kind !== 'ready') return;
    if (met.kind !== 'ready') {
      this.#report(met.kind === 'lost' ? 'unplugged' : met.kind, 'finding' in met ? met.finding : '');
      return;
    }
    const link = new BoardLink(met, ioClock);
    try {
      if (!(await this.#setUp(link))) return;
      this.#met = true;
      this.#link = link;
      this.#report('ready', '');
      await this.#watch(link);
    } finally {
      this.#link = undefined;
      link.close();
      await this.#inTurn(async () => link.forget());
    }
  }

  async #open(): Promise<Duplex | undefined> {
    const { openTransport, ioClock } = this.#tools;
    const opening = openTransport(this.board);
    try {
      const outcome = await withDeadline(opening, openLimitMs, ioClock);
      if (outcome.kind === 'done') return outcome.value;
      opening.then(
        (late) => late.destroy(),
        () => undefined,
      );
      this.#report('no-board', 'its port did not open within 10 s; unplug the board and plug it in again');
    } catch (cause) {
      const finding = cause instanceof Error ? cause.message : String(cause);
      this.#report(this.#met ? 'unplugged' : 'no-board', finding);
    }
    return undefined;
  }

  async #setUp(link: BoardLink): Promise<boolean> {
    if (!(await link.setUp(this.#usesI2c))) {
      this.#report('silent', '');
      return false;
    }
    const power = this.board.probePower;
    if (link.bootCount === 1 && power !== undefined) link.drive(power.pin, false);
    this.#post.attach(link);
    return true;
  }

  async #watch(link: BoardLink): Promise<void> {
    const ended = new AbortController();
    const end = () => ended.abort();
    this.#stop.signal.addEventListener('abort', end);
    let how: 'silent' | 'unplugged' | undefined;
    link.lost.then((found) => {
      how = found;
      end();
    });
    while (!ended.signal.aborted) {
      const beat = await this.#tools.ioClock.sleep(heartbeatMs, ended.signal).then(
        () => true,
        () => false,
      );
      if (beat)
        await this.#inTurn(async () => (link.restarted ? await this.#setUp(link) : await link.alive()));
    }
    this.#stop.signal.removeEventListener('abort', end);
    if (how !== undefined) this.#report(how, link.lostBecause ?? '');
    else await this.#inTurn(async () => await this.#leave(link));
  }

  /** Leaves the board quiet: lamp, buzzer and probe power off, and waits until it has heard that. */
  async #leave(link: BoardLink): Promise<void> {
    this.#post.show(false, link);
    if (this.board.probePower !== undefined) link.drive(this.board.probePower.pin, false);
    await link.alive();
  }

  #report(state: BoardState, finding: string): void {
    this.#health = healthOf(this.board.id, state, finding);
  }
}
