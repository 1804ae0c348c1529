import { span } from './ages.js';
import { columnsOf } from './fitted.js';

/** What takes less is over before anybody looks. */
const QUIET_MS = 2000;
const EVERY_MS = 500;

/** How far a long job is, on one line of the terminal; silent where stderr is none. */
export interface Progress {
  /** @param share of the work that is done, 0 to 1 */
  at(share: number): void;
  /** Takes the line away. */
  end(): void;
}

type Terminal = Pick<NodeJS.WriteStream, 'isTTY' | 'columns' | 'write'>;

/**
 * Says what is done, how much of it and, from the pace so far, how long it will still take; from two seconds on.
 * @param doing such as "readings played"
 */
export function showProgress(
  doing: string,
  terminal: Terminal = process.stderr,
  nowMs: () => number = () => performance.now(),
): Progress {
  const fromMs = nowMs();
  let saidMs = fromMs + QUIET_MS - EVERY_MS;
  let shownColumns = 0;
  /** Over what stood there, without a word of control that a terminal might not know. */
  const show = (text: string): void => {
    terminal.write(`\r${text.padEnd(shownColumns)}`);
    shownColumns = text.length;
  };
  return {
    at(share) {
      const ms = nowMs();
      if (!terminal.isTTY || ms - saidMs < EVERY_MS) return;
      saidMs = ms;
      const left = share > 0 ? `, about ${span(((ms - fromMs) * (1 - share)) / share)} left` : '';
      show(`  ${Math.floor(100 * share)} % of ${doing}${left}`.slice(0, columnsOf(terminal) - 1));
    },
    end() {
      if (shownColumns > 0) terminal.write(`\r${' '.repeat(shownColumns)}\r`);
      shownColumns = 0;
    },
  };
}
