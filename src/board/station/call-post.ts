import type { BoardConfig } from '../../../shared/config/kit/hookup.js';
import type { Clock } from '../../monitor/ports/ports.js';
import type { BoardLink } from '../line/board-link.js';

/** Contacts bounce for some milliseconds; nobody presses twice within this. */
const debounceMs = 50;

/** Lamp, buzzer and button on a board, for whoever stands in the house. Keeps its state over a reconnect. */
export class CallPost {
  readonly #post: BoardConfig['callPost'];
  readonly #clock: Clock;
  readonly #onPress: () => void;
  #lit = false;

  constructor(board: BoardConfig, clock: Clock, onPress: () => void) {
    this.#post = board.callPost;
    this.#clock = clock;
    this.#onPress = onPress;
  }

  show(lit: boolean, link: BoardLink | undefined): void {
    this.#lit = lit;
    if (link === undefined) return;
    for (const pin of [this.#post?.lampPin, this.#post?.buzzerPin])
      if (pin !== undefined) link.drive(pin, lit);
  }

  /** After connecting, and after a restart of the board. */
  attach(link: BoardLink): void {
    this.show(this.#lit, link);
    const buttonPin = this.#post?.buttonPin;
    if (buttonPin === undefined || link.bootCount > 1) return;
    let wasReleased = false;
    let changedAtMs = Number.NEGATIVE_INFINITY;
    link.watchButton(buttonPin, (pressed) => {
      const nowMs = this.#clock.monotonicMs();
      const settled = nowMs - changedAtMs >= debounceMs;
      changedAtMs = nowMs;
      if (pressed && wasReleased && settled) this.#onPress();
      wasReleased = !pressed;
    });
  }
}
